using System.CommandLine;
using System.Globalization;
using System.Runtime.ExceptionServices;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>summarize LOG… --out DIR</c>: one small file for each log, which stands for it from then on.</summary>
internal sealed class SummarizeCommand
{
    private readonly Argument<string[]> _logs = new("LOG")
    {
        Description = "meter logs; with --study, those of its logs that are meant (default: all of them)",
        Arity = ArgumentArity.ZeroOrMore,
    };
    private readonly Option<string> _out = new("--out") { Description = "folder for the summaries", HelpName = "DIR", Required = true };
    private readonly Option<string?> _study =
        CommonOptions.Text("--study", "study file that says about the logs what an audit of it will need", "STUDY");
    private readonly Option<bool> _verify = new("--verify")
    {
        Description = "hash every log that has a summary, instead of going by its size and time",
    };
    private readonly Option<string?> _part = CommonOptions.Text("--part",
        "of each log only the I-th of N parts of its bytes: one task of N, on any machine, in any order", "I/N");
    private readonly Option<bool> _join = new("--join")
    {
        Description = "join the parts that are there to summaries of whole logs, without the logs; a part that is missing is named",
    };
    private readonly LogOptionsBinder _binder = new();
    private readonly Option<string> _format = CommonOptions.Format();
    private readonly Option<bool> _quiet = CommonOptions.Quiet();
    private readonly CliHost _host;

    private SummarizeCommand(CliHost host)
    {
        _host = host;
        _logs.Validators.Add(CommonOptions.RefuseOptionLikeNames);
    }

    public static Command Create(CliHost host)
    {
        var self = new SummarizeCommand(host);
        var command = new Command("summarize", "Writes one small file for each log, which measure and audit accept in its place.")
        {
            self._logs, self._out, self._study, self._part, self._join, self._verify, self._format, self._quiet,
        };
        self._binder.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation)
    {
        string folder = parse.GetValue(_out)!;
        var summaries = AuditSettings.FolderOf(folder, parse.GetValue(_verify))!;
        var work = Work(parse, summaries, cancellation);

        // One log that cannot be used keeps no other from being summarized.
        var refused = SideBySide.Of(work.Count, i => WhyNot(work[i]), cancellation).OfType<InputException>().ToList();
        foreach (var why in refused.Skip(1))
        {
            _host.Error.WriteLine($"chargeaudit: {VisibleText.Of(why.Message)}");
        }

        if (refused.Count > 0)
        {
            ExceptionDispatchInfo.Throw(refused[0]);
        }

        Tell(parse, folder, summaries);
        return ExitStatus.Done;
    }

    private static InputException? WhyNot(Action work)
    {
        try
        {
            work();
            return null;
        }
        catch (InputException e)
        {
            return e;
        }
    }

    private List<Action> Work(ParseResult parse, SummaryFolder summaries, CancellationToken cancellation)
    {
        string[] logs = parse.GetValue(_logs) ?? [];
        CheckNames(logs);
        var summarize = Summarize(parse, cancellation);
        if (parse.GetValue(_study) is not { } file)
        {
            var meter = _binder.Bind(parse, null);
            return logs.Length == 0
                ? throw Wrong("name the logs that are to be summarized, or a study with --study")
                : [.. logs.Distinct(StringComparer.Ordinal).Select(log => (Action)(() =>
                    summarize(new MeasureRequest { Paths = [log], Meter = meter, Summaries = summaries })))];
        }

        _binder.RefuseBesideStudy(parse);
        var study = PublicNames.Of(StudyReader.Load(file));
        var requests = StudySummaries.Requests(study, new AuditOptions { Strict = _binder.IsStrict(parse), Summaries = summaries });
        if (logs.FirstOrDefault(l => !requests.Any(r => Names(r, l))) is { } stranger)
        {
            throw Wrong($"{stranger} is no log of {file}; name logs of the study, or leave --study out and say what is known of it");
        }

        return [.. requests.Where(r => logs.Length == 0 || Array.Exists(logs, l => Names(r, l)))
            .Select(r => (Action)(() => StudySummaries.Summarize(study, r, summarize)))];
    }

    private Func<MeasureRequest, (LogLayout Layout, PowerSource Source)> Summarize(ParseResult parse, CancellationToken cancellation)
    {
        if (parse.GetValue(_part) is { } text)
        {
            var (number, count) = PartOf(text);
            return parse.GetValue(_join)
                ? throw Wrong("--part makes a part and --join needs all of them; give one of the two")
                : request => LogParts.Summarize(request, number, count, cancellation);
        }

        return request =>
        {
            var read = parse.GetValue(_join) ? request.Summaries!.Join(request) : LogReading.Of(request, null, cancellation);
            return (read.Own, read.Source);
        };
    }

    private static (int Number, int Count) PartOf(string text)
    {
        string[] numbers = text.Split('/');
        return numbers.Length == 2 && int.TryParse(numbers[0], NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            && int.TryParse(numbers[1], NumberStyles.None, CultureInfo.InvariantCulture, out int count)
            && number >= 1 && number <= count && count <= LogParts.MostParts
            ? (number, count)
            : throw Wrong(InvariantText.Of(
                $"--part \"{text}\" was given, and I/N with 1 <= I <= N <= {LogParts.MostParts} was expected, such as 2/4"));
    }

    private void Tell(ParseResult parse, string folder, SummaryFolder summaries)
    {
        if (parse.GetValue(_format) == "json")
        {
            _host.Output.Write(ResultsJson.Summarize(folder, summaries));
            return;
        }

        if (parse.GetValue(_quiet))
        {
            return;
        }

        foreach (string why in summaries.PassedOver.Order(StringComparer.Ordinal))
        {
            _host.Error.WriteLine($"chargeaudit: the log was summarized again, as its summary could not be used: {VisibleText.Of(why)}");
        }

        var text = new TerminalText(_host);
        text.Line(InvariantText.Of($"{summaries.Added.Count} summarized, {summaries.Used.Count} already there, in {folder}."));
    }

    private static void CheckNames(string[] logs)
    {
        if (logs.Contains("-"))
        {
            throw Wrong("a log from standard input has no name by which its summary could be found again; give a file");
        }

        if (Array.Find(logs, SummaryFile.IsSummary) is { } summary)
        {
            throw Wrong($"{summary} is a summary already; give the log itself");
        }
    }

    private static bool Names(MeasureRequest request, string log) =>
        request.Paths.Any(p => Path.GetFullPath(p) == Path.GetFullPath(log));

    private static InputException Wrong(string sentence) => new(InputProblem.Usage, sentence);
}
