using System.CommandLine;
using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Folders;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.JUnit;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>check STUDY --baseline results.json</c>: whether a candidate uses more than its baseline, for a build to go red or
/// green.</summary>
internal sealed class CheckCommand
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly Argument<string> _study = new("STUDY") { Description = "study file of the candidate (TOML)" };
    private readonly Option<string> _baseline = new("--baseline")
    {
        Description = "results.json of the audit to compare with",
        HelpName = "FILE",
        Required = true,
    };
    private readonly Option<string?> _margin =
        CommonOptions.Text("--margin",
        "how much greater a figure may be, such as 2%; the study's [check] table can give each figure its own", "PERCENT");
    private readonly Option<double?> _alpha = CommonOptions.Number("--alpha", "one-sided level of each test (default 0.05)", "NUMBER");
    private readonly Option<string?> _junit = CommonOptions.Text("--junit", "write the verdict as JUnit XML", "FILE");
    private readonly Option<string?> _markdown = CommonOptions.Text("--markdown", "write the verdict as Markdown", "FILE");
    private readonly Option<string?> _history =
        CommonOptions.Text("--history", "append to this history (JSON lines) and look for a slow drift in it", "FILE");
    private readonly Option<string?> _trend =
        CommonOptions.Text("--trend",
        "draw the history as charts (PNG and SVG) into this folder; with --out and --history they are drawn into its charts anyway", "DIR");
    private readonly Option<string?> _out =
        CommonOptions.Text("--out", "folder for the candidate's report, with check.json beside it", "DIR");
    private readonly Option<bool> _overwrite = CommonOptions.Overwrite();
    private readonly CliHost _host;
    private readonly AuditSettings _settings;

    private CheckCommand(CliHost host, string commandLine)
    {
        _host = host;
        _settings = new AuditSettings(host, commandLine);
    }

    public static Command Create(CliHost host, string commandLine)
    {
        var self = new CheckCommand(host, commandLine);
        var command =
            new Command("check",
            "Tests whether a candidate uses more energy than a baseline: pass (exit 0), fail (1) or inconclusive (2), each with a stated "
                + "risk of error.")
        {
            self._study, self._baseline, self._margin, self._alpha, self._junit, self._markdown, self._history, self._trend, self._out,
                self._overwrite,
            self._settings.Summaries, self._settings.Format, self._settings.Strict, self._settings.Quiet,
        };
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation)
    {
        string file = parse.GetValue(_study)!;
        bool json = parse.GetValue(_settings.Format) == "json";
        bool quiet = parse.GetValue(_settings.Quiet);
        if (parse.GetValue(_trend) is not null && parse.GetValue(_history) is null)
        {
            throw Wrong("--trend draws a history, and none is named; add --history FILE");
        }

        var study = StudyReader.Load(file);
        var rules = Rules(parse, study.Check);
        var baseline = BaselineReader.Load(parse.GetValue(_baseline)!);
        using var progress = _settings.ProgressFor(parse);
        var options = _settings.Of(parse, file, progress);
        var audit = Auditor.Run(study, options, cancellation);
        progress?.Dispose();
        _settings.TellPassedOver(parse, options.Summaries);
        var result = Checker.Run(AuditDesign.Of(audit), baseline, rules);
        cancellation.ThrowIfCancellationRequested();
        (result, var series) = WithHistory(parse, result, rules, cancellation);
        string document = CheckJson.Of(result);
        string? folderOfTrends = TrendFolderOf(parse);
        var (trends, charts) = folderOfTrends is null ? ([], []) : TrendFolder.Draw(series, folderOfTrends);
        bool overwrite = parse.GetValue(_overwrite);
        if (parse.GetValue(_out) is { } folder)
        {
            // What is drawn into the report's own folder belongs to the report.
            string? within = folderOfTrends is null
                ? null
                : Path.GetRelativePath(folder, folderOfTrends).Replace(Path.DirectorySeparatorChar, '/');
            bool belongs = within is not null && !Path.IsPathRooted(within) && !within.StartsWith("..", StringComparison.Ordinal);
            IEnumerable<(string Name, byte[] Bytes)> more = belongs
                ? charts.Select(c => (within == "." ? c.Name : $"{within}/{c.Name}", c.Bytes))
                : [];
            ReportFolder.Write(audit, folder, overwrite, more: [("check.json", Encoding.UTF8.GetBytes(document)), .. more],
                cancellation: cancellation);
            charts = belongs ? [] : charts;
        }

        if (charts.Count > 0)
        {
            ResultFolder.Write(charts, folderOfTrends!, overwrite, Remedy.Trend, cancellation);
        }

        Write(parse.GetValue(_junit), () => CheckJUnit.Of(result));
        Write(parse.GetValue(_markdown),
            () => CheckMarkdown.Of(result, trends, Path.GetDirectoryName(Path.GetFullPath(parse.GetValue(_markdown)!))!));
        if (json)
        {
            _host.Output.Write(document);
        }
        else if (!quiet)
        {
            var text = new TerminalText(_host);
            CheckText.Write(text, result);
            if (folderOfTrends is not null)
            {
                CheckText.Trends(text, trends);
            }
        }

        return ExitStatus.Of(result.Verdict);
    }

    private (CheckResult Result, IReadOnlyList<DriftSeries> Series) WithHistory(ParseResult parse, CheckResult result, CheckRules rules,
        CancellationToken cancellation)
    {
        if (parse.GetValue(_history) is not { } history)
        {
            return (result, []);
        }

        var appended = HistoryFile.Append(history, HistoryEntry.Of(result, _host.Clock.GetLocalNow()), Patience, _host.Clock, cancellation);
        if (appended.Repaired is { } repaired)
        {
            _host.Error.WriteLine($"chargeaudit: {VisibleText.Of(WrittenMarks.Shown(repaired))}");
        }

        var series = DriftTest.Series(appended.Entries, (figure, point) => rules.MarginOf(figure, point)!.Value);
        var told = EarlierLooks.Told(appended.Entries, result);
        return (Checker.WithDrifts(told, [.. series.Select(s => s.Finding)]), series);
    }

    private string? TrendFolderOf(ParseResult parse) => parse.GetValue(_trend)
        ?? (parse.GetValue(_history) is not null && parse.GetValue(_out) is { } folder ? Path.Combine(folder, "charts") : null);

    private CheckRules Rules(ParseResult parse, CheckRules ofStudy)
    {
        var rules = ofStudy;
        if (parse.GetValue(_margin) is { } margin)
        {
            rules = rules with
            {
                Margin = PercentText.Parse(margin)
                    ?? throw Wrong($"--margin is \"{margin}\"; per cent from 0 to below 100 were expected, such as 2%"),
            };
        }

        if (parse.GetValue(_alpha) is { } alpha)
        {
            rules = CheckRules.IsLevel(alpha) ? rules with { Alpha = alpha } : throw Wrong(InvariantText.Of(
                $"--alpha is {alpha}; a level from {CheckRules.LeastAlpha} to {CheckRules.GreatestAlpha} was expected, such as 0.05"));
        }

        return rules;
    }

    private static void Write(string? path, Func<string> text)
    {
        if (path is not null)
        {
            Write(path, text());
        }
    }

    private static void Write(string path, string text) => AtomicFile.Write(path, Encoding.UTF8.GetBytes(text));

    private static InputException Wrong(string sentence) => new(InputProblem.Usage, sentence);
}
