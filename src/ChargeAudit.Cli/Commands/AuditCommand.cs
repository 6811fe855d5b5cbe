using System.CommandLine;
using ChargeAudit.Cli.Folders;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Cli.Settings;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Folders;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>audit STUDY</c>, <c>audit FOLDER</c>, or <c>audit --wired … --inductive …</c>: the main job.</summary>
internal sealed class AuditCommand
{
    private const string DefaultFolder = "chargeaudit-report";

    private readonly Argument<string[]> _study = new("STUDY")
    {
        Description = "study file (TOML), a folder of logs, or the logs themselves; - reads a study from standard input",
        Arity = ArgumentArity.ZeroOrMore,
    };
    private readonly Option<string[]> _wired = Logs("--wired", "logs of charges by cable, one for each charge, where there is no study "
        + "file");
    private readonly Option<string[]> _inductive =
        Logs("--inductive", "logs of charges on a pad, one for each charge, where there is no study file");
    private readonly Option<string?> _point =
        CommonOptions.OptionalWord("--point", $"{CommonOptions.WhereTheMeterSat}; needed with --wired and --inductive", StudyWords.Points);
    private readonly Option<double?> _price =
        CommonOptions.Number("--price",
        "price of a kilowatt-hour, from 0 up, in place of a study's own; without either, no cost is worked out", "NUMBER");
    private readonly Option<string?> _currency = CommonOptions.Text("--currency", "currency of the price (ISO 4217), such as EUR", "CODE");
    private readonly Option<string> _out = new("--out")
    {
        Description = "folder for the report",
        HelpName = "DIR",
        DefaultValueFactory = _ => DefaultFolder,
    };
    private readonly Option<bool> _budget = new("--budget") { Description = "show where each headline figure's uncertainty comes from" };
    private readonly Option<string?> _rise =
        CommonOptions.Text("--rise",
        "how much more a charge may use where the device lies off its best position (default 5%); the offset at which it does is "
            + "the position tolerance",
        "PERCENT");
    private readonly Option<bool> _details = new("--details")
    {
        Description = "also print how figures were obtained, what changes a year, and published limits",
    };
    private readonly TableOption _tables =
        new("also write the tables (sessions, results, modes, envelope) in this format; may be given several times");
    private readonly ToldOptions _told = new();
    private readonly FigureOptions _figures = new();
    private readonly Option<bool> _overwrite = CommonOptions.Overwrite();
    private readonly CliHost _host;
    private readonly AuditSettings _settings;
    private string? _studySha256;
    private SetTariff? _setTariff;

    private AuditCommand(CliHost host, string commandLine)
    {
        _host = host;
        _settings = new AuditSettings(host, commandLine);
        _study.Validators.Add(CommonOptions.RefuseOptionLikeNames);
    }

    public static Command Create(CliHost host, string commandLine)
    {
        var self = new AuditCommand(host, commandLine);
        var command = new Command("audit", "Compares ways of charging: overhead, losses, stand-by and cost of a year, with a report.")
        {
            self._study, self._wired, self._inductive, self._point, self._price, self._currency,
            self._out, self._overwrite, self._tables.Option, self._budget, self._details, self._settings.Procedure, self._rise,
            self._settings.Summaries, self._settings.Format, self._settings.Strict, self._settings.Quiet,
        };
        self._figures.AddTo(command);
        self._told.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation)
    {
        bool json = parse.GetValue(_settings.Format) == "json";
        bool quiet = parse.GetValue(_settings.Quiet);
        _figures.Check(parse);
        var (study, file, assumptions, folderStudy) = StudyOf(parse, quiet, cancellation);
        study = PublicNames.Of(WithRise(study, parse.GetValue(_rise)));
        using var progress = _settings.ProgressFor(parse);
        var options = _settings.Of(parse, file, progress);
        var result = Auditor.Run(
            study,
            options with
            {
                StudySha256 = _studySha256 ?? AuditSettings.HashOf(file),
                Assumptions = _setTariff is { } set ? [.. assumptions, set.Words] : assumptions,
                Drafted = folderStudy?.Draft is not null,
                PassedOver = folderStudy?.Draft?.PassedOver ?? [],
            },
            cancellation);
        _settings.TellPassedOver(parse, options.Summaries);
        cancellation.ThrowIfCancellationRequested();
        string folder = parse.GetValue(_out)!;
        var written = ReportFolder.Write(result, folder, parse.GetValue(_overwrite), _tables.Of(parse), cancellation: cancellation);
        var figures = _figures.Draw(parse, result, cancellation);
        progress?.Dispose();
        if (json)
        {
            _host.Output.Write(ResultsJson.Audit(result));
        }
        else if (!quiet)
        {
            var text = new TerminalText(_host);
            FolderText.Write(text, folderStudy, FolderNamed(parse));
            AuditText.Write(text, result, folder, written, parse.GetValue(_budget), parse.GetValue(_details)
                ? Detail.Full
                : Detail.Short, folderStudy?.Assumptions ?? []);
            if (figures.Count > 0)
            {
                text.Line($"Charts on their own: {string.Join(", ", figures)}.");
            }
        }

        Suggest(result, folder, file, FolderNamed(parse), folderStudy, quiet);
        return ExitStatus.Done;
    }

    private void Suggest(AuditResult result, string folder, string? file, string? named, FolderStudy? folderStudy, bool quiet)
    {
        NextStep.Say(_host, quiet, $"open {NextStep.Quoted(Path.Combine(folder, "report.html"))} in a browser");
        if (folderStudy?.Draft is not null && named is not null)
        {
            NextStep.Say(_host, quiet,
                $"chargeaudit draft {NextStep.Quoted(named)} writes what was assumed into a study file, for you to correct");
        }
        else if (file is not null && result.Comparisons.Count > 0)
        {
            NextStep.Say(_host, quiet,
                $"chargeaudit check STUDY --baseline {NextStep.Quoted(Path.Combine(folder, "results.json"))} tells whether a later study "
                + "uses more energy");
        }
    }

    private (Study Study, string? File, IReadOnlyList<string> Assumptions, FolderStudy? Folder) StudyOf(ParseResult parse, bool quiet,
        CancellationToken cancellation)
    {
        string[] named = NamedFiles.Of(parse.GetValue(_study) ?? []);
        string? study = named.Length > 0 ? named[0] : null;
        string[] wired = parse.GetValue(_wired) ?? [];
        string[] inductive = parse.GetValue(_inductive) ?? [];
        if (study is null == (wired.Length == 0 && inductive.Length == 0))
        {
            throw Wrong(study is null
                ? "name a study file or a folder of logs, or logs with --wired and --inductive; see chargeaudit audit --help"
                : "a study file names its own logs; give either the study, or --wired and --inductive");
        }

        if (NamedFiles.AreLogs(named))
        {
            using var progress = LineProgress.For(_host, quiet);
            var found = parse.GetValue(_point) is null
                ? FolderStudy.OfLogs(named, TariffOf(parse), _told.Bind(parse), progress, cancellation)
                : throw Wrong("--point goes with --wired and --inductive; where logs are named alone, they show it");
            return (found.Study, null, found.Assumptions, found);
        }

        if (study is not null && Directory.Exists(study))
        {
            using var progress = LineProgress.For(_host, quiet);
            var found = parse.GetValue(_point) is null
                ? FolderStudy.Of(study, own => TariffOf(parse, own), _told.Bind(parse), f => _told.RefuseBesideStudy(parse, f), progress,
                    cancellation)
                : throw Wrong(
                    "--point goes with --wired and --inductive; in a folder the logs show it, and a study file from chargeaudit draft "
                    + "can say it");
            return (found.Study, found.File, [.. found.Assumptions, .. InPlaceOfTheStudys(parse, found.File)], found);
        }

        if (study is not null)
        {
            if (parse.GetValue(_point) is not null)
            {
                throw Wrong("--point goes with --wired and --inductive; a study file says it itself");
            }

            _told.RefuseBesideStudy(parse, study);
            var (loaded, hash) = study == NamedFiles.StandardInput
                ? NamedFiles.StudyFrom(InterruptibleInput.Of(_host.Input, cancellation))
                : (StudyReader.Load(study), null);
            _studySha256 = hash;
            return (loaded with { Tariff = TariffOf(parse, loaded.Tariff) ?? loaded.Tariff }, study, [.. InPlaceOfTheStudys(parse, study)],
                null);
        }

        var point = parse.GetValue(_point) is { } word ? StudyWords.Point(word) : null;
        return (AdHocStudy.Of(wired, inductive, point, TariffOf(parse), out var assumptions, _told.Bind(parse)), null, assumptions, null);
    }

    // The folder that a draft would be made of; null where a file was named.
    private string? FolderNamed(ParseResult parse) => (parse.GetValue(_study) ?? []).FirstOrDefault(Directory.Exists);

    private IEnumerable<string> InPlaceOfTheStudys(ParseResult parse, string? file)
    {
        if (file is not null && parse.GetValue(_price) is { } price)
        {
            yield return InvariantText.Of($"The price is --price {price}, in place of whatever [tariff] in {PublicNames.Of(file)} says.");
        }
    }

    // A price alone takes the currency of the study that it overrides.
    private Tariff? TariffOf(ParseResult parse, Tariff? own = null)
    {
        double? price = parse.GetValue(_price);
        string? currency = parse.GetValue(_currency)
            ?? (price is null ? null : own?.Currency ?? UserSettings.Of(_host)[Setting.Currency]?.Text);
        return (price, currency) switch
        {
            (null, null) => own is null ? (_setTariff = SetTariff.Of(_host))?.Tariff : null,
            ( < 0, _) =>
                throw Wrong(
                    InvariantText.Of(
                        $"--price is {price}; a price from 0 up was expected, per kilowatt-hour; a tariff with prices below zero goes into "
                + $"a study file")),
            ({ } p, { } c) => new Tariff(Known(c), p),
            (null, _) => throw Wrong("--currency goes with --price; give the price of a kilowatt-hour too"),
            _ => throw Wrong("--price needs a currency; add --currency EUR, or another code of ISO 4217"),
        };
    }

    private static string Known(string currency)
    {
        string code = currency.Trim().ToUpperInvariant();
        return Currency.Find(code) is not null ? currency : throw Wrong(
            $"--currency is \"{currency}\"; a code of ISO 4217 was expected, such as "
            + (NearestWord.Of(code, Currency.All.Select(c => c.Code)) ?? "EUR"));
    }

    private static Study WithRise(Study study, string? rise) => rise is null
        ? study
        : study with
        {
            Placement = PercentText.Parse(rise) is { } share && PlacementRules.IsRise(share)
                ? study.Placement with { Rise = share }
                : throw Wrong($"--rise is \"{rise}\"; per cent from 0.1 to below 100 were expected, such as 5%"),
        };

    private static Option<string[]> Logs(string name, string description)
    {
        var option = new Option<string[]>(name) { Description = description, HelpName = "LOG", AllowMultipleArgumentsPerToken = true };
        option.Validators.Add(CommonOptions.RefuseOptionLikeNames);
        return option;
    }

    private static InputException Wrong(string sentence) => new(InputProblem.Usage, sentence);
}
