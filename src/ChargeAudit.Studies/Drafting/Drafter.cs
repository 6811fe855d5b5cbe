using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Makes a first study of the logs in a folder.</summary>
public static class Drafter
{
    /// <summary>Looks at a folder and drafts a study of it.</summary>
    /// <param name="folder">The folder; its sub-folders are looked into, one level deep.</param>
    /// <param name="progress">Told which file is being read, as "2 of 12: name".</param>
    /// <param name="cancellation">Stops it.</param>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    /// <exception cref="InputException">There is no such folder, or no log in it can be used.</exception>
    public static StudyDraft Of(string folder, IProgress<string>? progress = null, LogOptions? told = null,
        CancellationToken cancellation = default)
    {
        var files = FolderFiles.Find(folder);
        string title = Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder)));
        return Of(folder, files.Logs, files.PassedOver, title, progress, told, cancellation);
    }

    /// <summary>Looks at logs that were named one by one and drafts a study of them.</summary>
    /// <param name="logs">Their paths.</param>
    /// <param name="progress">Told which file is being read, as "2 of 12: name".</param>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">A log is missing, or none can be used.</exception>
    public static StudyDraft OfLogs(IReadOnlyList<string> logs, IProgress<string>? progress = null, LogOptions? told = null,
        CancellationToken cancellation = default)
    {
        string folder = FolderOf(logs);
        return logs.FirstOrDefault(l => !File.Exists(l)) is { } missing
            ? throw new InputException(InputProblem.Missing, $"{missing}: there is no such file; check its name")
            : Of(folder, [.. logs.Select(l => Below(folder, l)).Distinct()], [], "", progress, told, cancellation);
    }

    /// <summary>The folder that holds all of some files, itself or in folders below it; empty for the current one, or where there is
    /// none.</summary>
    /// <param name="files">Their paths, as named.</param>
    public static string FolderOf(IReadOnlyList<string> files)
    {
        ArgumentNullException.ThrowIfNull(files);
        string[][] parts = [.. files.Select(f => (Path.GetDirectoryName(f) ?? "").Split(Path.DirectorySeparatorChar))];
        int alike = 0;
        while (parts.All(p => p.Length > alike && p[alike] == parts[0][alike]))
        {
            alike++;
        }

        string common = string.Join(Path.DirectorySeparatorChar, parts[0].Take(alike));
        return common.Length == 0 && alike > 0 && parts[0][0].Length == 0 && files[0].StartsWith(Path.DirectorySeparatorChar)
            ? Path.DirectorySeparatorChar.ToString()
            : common;
    }

    private static string Below(string folder, string file) => folder.Length == 0
        ? file
        : Path.GetRelativePath(folder, file).Replace(Path.DirectorySeparatorChar, '/');

    private static StudyDraft Of(
        string folder, IReadOnlyList<string> logs, IReadOnlyList<PassedOver> passedOver, string title, IProgress<string>? progress,
        LogOptions? told, CancellationToken cancellation)
    {
        var facts = new List<LogFacts>();
        var rest = passedOver.ToList();
        InputException? first = null;
        for (int i = 0; i < logs.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            progress?.Report(InvariantText.Of($"{i + 1} of {logs.Count}: {logs[i]}"));
            try
            {
                facts.Add(LogLook.Of(folder, [logs[i]], told, cancellation));
            }
            catch (InputException e)
            {
                first ??= e;
                rest.Add(new PassedOver(logs[i], Without(e.Message, Path.Combine(folder, logs[i]), logs[i])));
            }
        }

        if (facts.Count == 0)
        {
            string where = folder.Length > 0 ? $"{folder}: no log in it" : "no log of those named";
            throw new InputException(InputProblem.Unusable,
                $"{where} can be used ({Reasons(rest)}); logs of charges were expected")
            {
                Remedy = first?.Remedy ?? Remedy.None,
                RemedyValue = first?.RemedyValue,
            };
        }

        facts = FollowingLogs.Joined(OneLogOnce.Of(facts, rest), names => LogLook.Of(folder, names, told, cancellation));
        return Decide(title.Length > 0 ? title : "Charging by cable and on a pad", facts, rest);
    }

    /// <summary>Joins the logs that one meter wrote one after another without a hole.</summary>
    /// <param name="logs">Logs of single files.</param>
    /// <param name="look">Looks at several files, by their names, as one log.</param>
    public static IReadOnlyList<LogFacts> Joined(IReadOnlyList<LogFacts> logs, Func<IReadOnlyList<string>, LogFacts> look) =>
        FollowingLogs.Joined(logs, look);

    /// <summary>Drafts a study from what the logs show. Pure.</summary>
    /// <param name="title">Title of the study.</param>
    /// <param name="logs">The logs, at least one.</param>
    /// <param name="rest">Files that are not logs.</param>
    /// <param name="choices">What somebody said about logs, by the name of their first file; null: nothing.</param>
    public static StudyDraft Decide(
        string title, IReadOnlyList<LogFacts> logs, IReadOnlyList<PassedOver> rest, IReadOnlyDictionary<string, LogChoice>? choices = null)
    {
        var placed = StackedMeters.Told([.. logs.Select(l => Place(l, choices?.GetValueOrDefault(l.File)))]);
        var meters = MeterGuess.Of(placed);
        var kinds = KindGuess.Of(RunPairing.Of(placed));
        var methods = MethodGuess.Of(kinds);
        var entries = kinds.Select((k, i) => (Kind: k, methods.Names[i], Run: RunOf(k, methods.Names[i], meters))).ToList();
        return new StudyDraft
        {
            Title = title,
            Reference = methods.Methods.FirstOrDefault(m => m.Kind == MethodKind.Wired)?.Name,
            Meters = meters.Meters,
            Methods = methods.Methods,
            Runs = Ordered(entries.Where(e => e.Kind.Charge is not null).Select(e => (e.Kind, e.Run)), methods.Methods),
            Standby = Ordered(entries.Where(e => e.Kind.Charge is null).Select(e => (e.Kind, e.Run)), methods.Methods),
            PassedOver = [.. rest.OrderBy(r => r.File, StringComparer.Ordinal)],
            Remarks = [.. Missing(methods.Methods, kinds)],
        };
    }

    private static PlacedLog Place(LogFacts facts, LogChoice? choice)
    {
        var words = NameWords.Of(facts.File);
        words = choice?.Kind is { } kind ? words.Said(kind) : words;
        var point = PointGuess.Stated(facts) ?? PointGuess.Of(facts, words);
        return new PlacedLog(facts, words, choice?.Point is { } said && said != point.Point
            ? new PointGuess(said, [DraftRemark.Guess($"{PlainWords.At(said)}, as you said.")]) { Told = true }
            : point with { Told = choice?.Point is not null });
    }

    private static DraftRun RunOf(KindOfBundle kind, string? method, MeterGuess meters)
    {
        var remarks = kind.Remarks.Concat(kind.Bundle.Remarks).ToList();
        var deciding = kind.Bundle.Deciding;
        int? session = null;
        if (kind.Charge is { } i && deciding.Facts.Charges.Count > 1)
        {
            session = deciding.Facts.Charges[i].Session;
            remarks.Add(
                DraftRemark.Guess(
                    InvariantText.Of($"{deciding.Facts.File} holds {deciding.Facts.Charges.Count} charges, so each is a run of its own.")));
        }

        if (kind.Charge is not null && kind.Bundle.Logs.FirstOrDefault(l => l.Facts.Faint) is { } faint)
        {
            remarks.Add(
                DraftRemark.Question(
                    $"{faint.Facts.File} was taken as a charge, yet it draws so little that it may be a waiting charger. Was a "
                + "device on it?"));
        }

        string? waits = kind.Bundle.Logs.Select(l => l.Words.WaitingWord).FirstOrDefault(w => w is not null);
        if (kind.Charge is not null && waits is not null)
        {
            remarks.Add(DraftRemark.Question($"The name says \"{waits}\", yet {deciding.Facts.File} holds a charge. Is it one?"));
        }
        else if (kind.Charge is null)
        {
            remarks.Add(waits is not null
                ? DraftRemark.Guess($"waiting, as the name says \"{waits}\", and no charge was found.")
                : DraftRemark.Guess($"waiting, as no charge was found in {deciding.Facts.File}."));
            if (waits is null)
            {
                remarks.Add(DraftRemark.Question($"Was there really no device on the charger in {deciding.Facts.File}?"));
            }
        }

        return new DraftRun(
            method, kind.Bundle.Logs.ToDictionary(l => l.Point.Point, l => new DraftLog(l.Facts.Files, meters.NameOf(l))), session,
                remarks);
    }

    private static List<DraftRun> Ordered(IEnumerable<(KindOfBundle Kind, DraftRun Run)> entries, IReadOnlyList<DraftMethod> methods)
    {
        var order = methods.Select(m => m.Name).ToList();
        return
        [
            .. entries.OrderBy(e => e.Run.Method is { } name ? order.IndexOf(name) : int.MaxValue)
                .ThenBy(e => e.Kind.Bundle.Deciding.Facts.Start ?? DateTimeOffset.MinValue)
                .ThenBy(e => e.Kind.Bundle.Deciding.Facts.File, StringComparer.Ordinal)
                .ThenBy(e => e.Kind.Charge)
                .Select(e => e.Run),
        ];
    }

    private static IEnumerable<DraftRemark> Missing(IReadOnlyList<DraftMethod> methods, IReadOnlyList<KindOfBundle> kinds)
    {
        foreach (var kind in Enum.GetValues<MethodKind>())
        {
            if (!kinds.Any(k => k.Kind == kind && k.Charge is not null))
            {
                yield return DraftRemark.Question(
                    $"No charge {PlainWords.Charged(kind)} was found. Which log is it, or is it missing?");
            }
        }

        if (methods.Count(m => m.Kind == MethodKind.Wired) > 1)
        {
            yield return DraftRemark.Question(
                "Several methods charge by cable. Is the reference the one that the others are to be compared with?");
        }
    }

    private static string Reasons(List<PassedOver> rest)
    {
        const int most = 3;
        return rest.Count == 0 ? "it holds no files" : string.Join("; ", rest.Take(most).Select(r => $"{r.File}: {r.Why}"))
            + (rest.Count > most ? InvariantText.Of($"; and {rest.Count - most} more") : "");
    }

    // The reason stands beside the name already.
    private static string Without(string message, string path, string name)
    {
        foreach (string known in new[] { path, name })
        {
            if (message.StartsWith(known, StringComparison.Ordinal))
            {
                return message[known.Length..].TrimStart(':', ',', ' ').TrimEnd('.');
            }
        }

        return message.TrimEnd('.');
    }
}
