using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>inspect LOG…</c>: how each log was understood, with no energy worked out.</summary>
internal static class InspectCommand
{
    public static Command Create(CliHost host)
    {
        var logs = CommonOptions.Logs("meter logs; - reads one from standard input");
        var binder = new LogOptionsBinder(host);
        var format = CommonOptions.Format();
        var quiet = CommonOptions.Quiet();
        var command =
            new Command("inspect",
            "Shows how each log was understood: dialect, columns, units, time base, sampling, faults. Works out no energy.") { logs, format,
            quiet };
        binder.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() =>
        {
            var options = binder.Bind(parse, InterruptibleInput.Of(host.Input, cancellation)).Options;
            string[] names = parse.GetValue(logs)!;
            InspectedLog[] inspected;
            using (var progress = ReadingBar.For(host, names, parse.GetValue(quiet)))
            {
                inspected = SideBySide.Of(names.Length, i => AllCores.AreTakenBy(names[i]),
                    i => Inspect(names[i], options, progress?.Of(i), cancellation), cancellation);
            }

            Print(host, inspected, parse.GetValue(format) == "json", parse.GetValue(quiet));
            string first = names[0];
            NextStep.Say(host, parse.GetValue(quiet), first == "-"
                ? "chargeaudit measure works out its energy"
                : $"chargeaudit measure {NextStep.Quoted(first)} works out its energy; chargeaudit draft FOLDER writes a study of "
                + "many logs");
            return ExitStatus.Done;
        }, cancellation));
        return command;
    }

    private static InspectedLog Inspect(string log, LogOptions options, IProgress<long>? progress, CancellationToken cancellation)
    {
        using var file = LogFile.Open(log, options);
        var sink = new LastTime();
        var outcome = file.ReadInto(ref sink, progress, cancellation)[0];
        return new InspectedLog(log, file.Layout, outcome, sink.TimeS);
    }

    private static void Print(CliHost host, IReadOnlyList<InspectedLog> inspected, bool json, bool quiet)
    {
        if (json)
        {
            host.Output.Write(ResultsJson.Inspect(inspected));
            return;
        }

        if (quiet)
        {
            return;
        }

        var text = new TerminalText(host);
        foreach (var log in inspected)
        {
            MeasureText.Write(text, log.File, log.Layout, log.Outcome, log.DurationS);
        }
    }

    private struct LastTime : ISampleSink
    {
        public double TimeS { get; private set; }

        public void Add(in Sample sample) => TimeS = sample.TimeS;
    }
}
