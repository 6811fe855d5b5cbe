using System.Globalization;
using ChargeAudit.Cli.Folders;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Page;

/// <summary>A log that the page was given.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Path">Its path on disk.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Facts">What it shows.</param>
/// <param name="Hash">Hash of its bytes.</param>
public sealed record TakenLog(string Id, string Path, string Name, LogFacts Facts, string Hash = "")
{
    /// <summary>How the user said that it is to be read; null: as it is found.</summary>
    public SaidReading? Reading { get; init; }
}

/// <summary>Makes guesses and studies of the logs that a page was given. Pure but for logs that have to be looked at as one.</summary>
public static class PageStudy
{
    /// <summary>Word for a log that is left out.</summary>
    public const string NotUsed = "not-used";

    private const string Title = "Charging by cable and on a pad";

    /// <summary>The logs with the guesses about each.</summary>
    /// <param name="logs">The logs.</param>
    /// <param name="cancellation">Stops it.</param>
    public static PageState State(IReadOnlyList<TakenLog> logs, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(logs);
        if (logs.Count == 0)
        {
            return new PageState([]);
        }

        var draft = Drafter.Decide(Title, Joined(logs, cancellation), []);
        return new PageState([.. logs.Select(l => Listed(l, draft))]) { Notes = [.. Twice(logs)] };
    }

    private static IEnumerable<string> Twice(IReadOnlyList<TakenLog> logs) => logs.Where(l => l.Hash.Length > 0).GroupBy(l => l.Hash)
        .Where(g => g.Count() > 1)
        .Select(g => $"{string.Join(" and ", g.Select(l => l.Name))} hold the same bytes: remove one, or its charge counts twice.")
        .Concat(logs.SelectMany((l, i) => logs.Skip(i + 1).Where(o => o.Hash != l.Hash && o.Facts.SharesRecordingWith(l.Facts))
            .Select(o => $"{l.Name} and {o.Name} hold one recording: remove one, or its charge counts twice.")));

    /// <summary>The draft of what a user said.</summary>
    /// <param name="logs">The logs.</param>
    /// <param name="said">What was said.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">No wired or no inductive charge is among the logs, or a word is not known.</exception>
    public static StudyDraft Draft(IReadOnlyList<TakenLog> logs, SaidOnPage said, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(logs);
        ArgumentNullException.ThrowIfNull(said);
        if (said.Logs?.Any(l => l is null) == true)
        {
            throw new InputException(InputProblem.Unusable, "one of the logs that the page sent is empty; load the page again");
        }

        var byId = (said.Logs ?? []).GroupBy(l => l.Id ?? "").ToDictionary(g => g.Key, g => g.Last());
        var used = logs.Where(l => byId.GetValueOrDefault(l.Id)?.Kind != NotUsed).ToList();
        if (used.Count == 0)
        {
            throw new InputException(InputProblem.Unusable, "no log is used; choose logs of charges by cable and on a pad");
        }

        var choices = used.Where(l => byId.ContainsKey(l.Id)).ToDictionary(l => l.Name, l => Choice(byId[l.Id]));
        var left = logs.Except(used).Select(l => new PassedOver(l.Name, "set to be not used"));
        var methods = used.Where(l => byId.GetValueOrDefault(l.Id)?.Method?.Trim() is { Length: > 0 })
            .ToDictionary(l => l.Name, l => byId[l.Id].Method!.Trim());
        var draft = PageMethods.Named(Drafter.Decide(Title, Joined(used, cancellation), [.. left], choices), methods);
        return draft.CanBeAudited
            ? draft
            : throw new InputException(InputProblem.Unusable,
                $"a comparison needs a charge by cable and one on a pad. {string.Join(" ", draft.Questions.Take(3))}");
    }

    /// <summary>The study of a draft, whose files lie under random names.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="logs">The logs.</param>
    /// <param name="said">Price and use.</param>
    /// <param name="folder">The folder that the logs lie in.</param>
    /// <exception cref="InputException">Price, currency or use cannot be used.</exception>
    public static Study Of(StudyDraft draft, IReadOnlyList<TakenLog> logs, SaidOnPage said, string folder)
    {
        ArgumentNullException.ThrowIfNull(said);
        var onDisk = logs.ToDictionary(l => l.Name, l => Path.GetFileName(l.Path));
        var forPeople = logs.ToDictionary(l => Path.GetFileName(l.Path), l => l.Name);
        string text = DraftText.Write(draft, FolderStudy.Next(FolderStudy.UsualName), name => onDisk[name]) + UseText(said)
            + TariffText(said);
        var study = StudyReader.Read("the page", text, folder);
        study = PageMeters.With(study, said);
        return study with
        {
            Runs = [.. study.Runs.Select(r => r with { Logs = Named(r.Logs, forPeople) })],
            Standby = [.. study.Standby.Select(s => s with { Logs = Named(s.Logs, forPeople) })],
        };
    }

    private static IReadOnlyList<LogFacts> Joined(IReadOnlyList<TakenLog> logs, CancellationToken cancellation)
    {
        var paths = logs.ToDictionary(l => l.Name, l => l.Path);
        return Drafter.Joined([.. logs.Select(l => l.Facts)],
            names => LogLook.Of([.. names.Select(n => paths[n])], names, logs.Count > 0 ? logs[0].Facts.Told : null, cancellation));
    }

    private static ListedLog Listed(TakenLog log, StudyDraft draft)
    {
        foreach (var run in draft.Runs.Concat(draft.Standby))
        {
            foreach (var (point, files) in run.Logs)
            {
                if (files.Files.Contains(log.Name))
                {
                    string kind = draft.Methods.FirstOrDefault(m => m.Name == run.Method) is { } method ? method.Kind == MethodKind.Wired
                        ? "wired"
                        : "inductive" : "";
                    var meter = draft.Meters.FirstOrDefault(m => m.Name == run.Logs[point].Meter);
                    return new ListedLog(log.Id, log.Name, kind, StudyWords.Of(point), draft.Standby.Contains(run),
                        [.. (meter?.Remarks ?? []).Concat(run.Remarks).Select(r => r.Text)], run.Method ?? "", log.Reading?.Columns ?? "",
                        log.Reading?.DateOrder ?? "");
                }
            }
        }

        return new ListedLog(log.Id, log.Name, "", "", false, [], "", log.Reading?.Columns ?? "", log.Reading?.DateOrder ?? "");
    }

    private static LogChoice Choice(SaidOfLog said) => new(
        said.Kind switch
        {
            null or "" => null,
            "wired" => MethodKind.Wired,
            "inductive" => MethodKind.Inductive,
            _ => throw new InputException(InputProblem.Unusable, "a log is of a charge by cable, of one on a pad, or not used; nothing "
                + "else is known"),
        },
        string.IsNullOrEmpty(said.Point)
            ? null
            : StudyWords.Point(said.Point)
                ?? throw new InputException(InputProblem.Unusable, $"a measuring point is one of {string.Join(", ", StudyWords.Points)}"));

    private static Dictionary<MeasuringPoint, LogReference> Named(IReadOnlyDictionary<MeasuringPoint, LogReference> logs,
        Dictionary<string, string> names) =>
        logs.ToDictionary(l => l.Key, l => l.Value with { Names = [.. l.Value.Files.Select(f => names[f])] });

    private static string UseText(SaidOnPage said)
    {
        string charges = said.ChargesPerWeek is { } c ? $"charges-per-week = {Number(c)}\n" : "";
        string hours = said.HoursOnCharger is { } h ? $"hours-on-charger-per-charge = {Number(h)}\n" : "";
        return charges.Length + hours.Length > 0 ? $"\n[use]\n{charges}{hours}" : "";
    }

    private static string TariffText(SaidOnPage said)
    {
        string currency = said.Currency?.Trim().ToUpperInvariant() ?? "";
        if (said.Price is not { } price)
        {
            return "";
        }

        if (!(price >= 0 && price <= PageLimits.GreatestPrice))
        {
            throw new InputException(
                InputProblem.Unusable,
                    InvariantText.Of(
                        $"the price is {price}; a price of a kilowatt-hour from 0 to {PageLimits.GreatestPrice:F0} was expected, such "
                    + $"as 0.30"));
        }

        return currency.Length == 3 && currency.All(char.IsAsciiLetterUpper)
            ? $"\n[tariff]\ncurrency = \"{currency}\"\nprice = {Number(price)}\n"
            : throw new InputException(InputProblem.Unusable, "the price needs its currency as a code of three letters, such as EUR");
    }

    private static string Number(double value) => value.ToString("0.0##########", CultureInfo.InvariantCulture);
}
