using System.CommandLine;
using ChargeAudit.Analysis.Auditing;
using ChargeAudit.Analysis.Results;
using ChargeAudit.Analysis.Studies;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>audit STUDY</c>, or <c>audit --wired … --inductive …</c>: the main job.</summary>
internal sealed class AuditCommand
{
    private const string UsProcedure = "us-appendix-y";
    private const string DefaultFolder = "chargeaudit-report";

    private readonly Argument<string?> _study = new("STUDY") { Description = "study file (TOML)", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<string[]> _wired = Logs("--wired", "logs of charges by cable, one a charge, where there is no study file");
    private readonly Option<string[]> _inductive = Logs("--inductive", "logs of charges by pad, one a charge, where there is no study file");
    private readonly Option<string?> _point = CommonOptions.OptionalWord("--point", "where the meter sat; needed with --wired and --inductive", StudyWords.Points);
    private readonly Option<double?> _price = CommonOptions.Number("--price", "price of a kilowatt-hour; without it no cost is worked out", "NUMBER");
    private readonly Option<string?> _currency = CommonOptions.Text("--currency", "currency of the price (ISO 4217), such as EUR", "CODE");
    private readonly Option<string> _out = new("--out") { Description = "folder for the report", HelpName = "DIR", DefaultValueFactory = _ => DefaultFolder };
    private readonly Option<bool> _budget = new("--budget") { Description = "show where each headline figure's uncertainty comes from" };
    private readonly Option<string?> _procedure = CommonOptions.OptionalWord("--procedure", "also work out a published test procedure; information, not a certificate", UsProcedure);
    private readonly Option<string?> _rise = CommonOptions.Text("--rise", "by how much a charge may rise where the device lies off (default 5%); the offset where it does is the position tolerance", "PERCENT");
    private readonly Option<bool> _details = new("--details") { Description = "print also how figures were had, what moves a year and published limits" };
    private readonly Option<string> _format = CommonOptions.Format();
    private readonly Option<bool> _strict = CommonOptions.Strict();
    private readonly Option<bool> _quiet = CommonOptions.Quiet();
    private readonly CliHost _host;
    private readonly string _commandLine;

    private AuditCommand(CliHost host, string commandLine)
    {
        _host = host;
        _commandLine = commandLine;
    }

    public static Command Create(CliHost host, string commandLine)
    {
        var self = new AuditCommand(host, commandLine);
        var command = new Command("audit", "Compares ways of charging: overhead, losses, stand-by and cost a year, with a report.")
        {
            self._study, self._wired, self._inductive, self._point, self._price, self._currency,
            self._out, self._budget, self._details, self._procedure, self._rise, self._format, self._strict, self._quiet,
        };
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation)
    {
        bool json = parse.GetValue(_format) == "json";
        bool quiet = parse.GetValue(_quiet);
        var (study, file, assumptions) = StudyOf(parse);
        study = WithRise(study, parse.GetValue(_rise));
        using var progress = quiet ? null : StudyProgress.For(_host);
        var result = Auditor.Run(
            study,
            new AuditOptions
            {
                Strict = parse.GetValue(_strict),
                ProgramVersion = ChargeAuditProgram.Version,
                CommandLine = $"chargeaudit {_commandLine}",
                StudyFile = file,
                Assumptions = assumptions,
                Procedure = parse.GetValue(_procedure) == UsProcedure ? PublishedProcedure.UsAppendixY : PublishedProcedure.None,
                Clock = _host.Clock,
                Progress = progress,
            },
            cancellation);
        cancellation.ThrowIfCancellationRequested();
        string folder = parse.GetValue(_out)!;
        var written = ReportFolder.Write(result, folder);
        progress?.Dispose();
        Print(result, folder, written, json, quiet, parse.GetValue(_budget), parse.GetValue(_details) ? Detail.Full : Detail.Short);
        return ExitStatus.Done;
    }

    private void Print(AuditResult result, string folder, IReadOnlyList<string> written, bool json, bool quiet, bool budget, Detail detail)
    {
        if (json)
        {
            _host.Output.Write(ResultsJson.Audit(result));
        }
        else if (!quiet)
        {
            AuditText.Write(new TerminalText(_host), result, folder, written, budget, detail);
        }
    }

    private (Study Study, string? File, IReadOnlyList<string> Assumptions) StudyOf(ParseResult parse)
    {
        string? study = parse.GetValue(_study);
        string[] wired = parse.GetValue(_wired) ?? [];
        string[] inductive = parse.GetValue(_inductive) ?? [];
        if (study is null == (wired.Length == 0 && inductive.Length == 0))
        {
            throw Wrong(study is null
                ? "name a study file, or logs with --wired and --inductive; see chargeaudit audit --help"
                : "a study file names its own logs; give either the study, or --wired and --inductive");
        }

        if (study is not null)
        {
            return parse.GetValue(_point) is null && parse.GetValue(_price) is null && parse.GetValue(_currency) is null
                ? (StudyReader.Load(study), study, [])
                : throw Wrong("--point, --price and --currency go with --wired and --inductive; a study file says them itself");
        }

        var point = parse.GetValue(_point) is { } word ? StudyWords.Point(word) : null;
        return (AdHocStudy.Of(wired, inductive, point, TariffOf(parse), out var assumptions), null, assumptions);
    }

    private Tariff? TariffOf(ParseResult parse)
    {
        double? price = parse.GetValue(_price);
        string? currency = parse.GetValue(_currency);
        return (price, currency) switch
        {
            (null, null) => null,
            ({ } p, { } c) => new Tariff(c, p),
            (null, _) => throw Wrong("--currency goes with --price; give the price of a kilowatt-hour too"),
            _ => throw Wrong("--price needs a currency; add --currency EUR, or another code of ISO 4217"),
        };
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
