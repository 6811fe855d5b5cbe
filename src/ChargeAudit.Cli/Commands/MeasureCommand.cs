using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Folders;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>measure LOG…</c>: energy, charge, duration, sessions and modes of each log.</summary>
internal static class MeasureCommand
{
    public static Command Create(CliHost host)
    {
        var logs = CommonOptions.Logs("meter logs; - reads one from standard input");
        var binder = new LogOptionsBinder(host);
        var format = CommonOptions.Format();
        var quiet = CommonOptions.Quiet();
        var folder = CommonOptions.Text("--out", "folder for the tables results, sessions, modes and envelope", "DIR");
        var tables = new TableOption("format of the tables (default csv); may be given several times; goes with --out");
        var overwrite = CommonOptions.Overwrite();
        var command = new Command("measure", "Works out energy, charge, duration, sessions and modes of each log.")
        {
            logs, folder, tables.Option, overwrite, format, quiet,
        };
        binder.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() =>
        {
            string? place = parse.GetValue(folder);
            var formats = tables.Of(parse);
            if (place is null && (formats.Count > 0 || parse.GetValue(overwrite)))
            {
                throw new InputException(InputProblem.Usage, "--tables and --overwrite go with --out; name the folder for the tables too");
            }

            var meter = binder.Bind(parse, InterruptibleInput.Of(host.Input, cancellation));
            string[] names = parse.GetValue(logs)!;
            var shelf = new CellShelf();
            LogMeasurement[] found;
            using (var progress = ReadingBar.For(host, names, parse.GetValue(quiet)))
            {
                found = SideBySide.Of(names.Length, i => AllCores.AreTakenBy(names[i]), i =>
                {
                    var one = LogMeasurer.Measure(new MeasureRequest { Paths = [names[i]], Meter = meter }, progress?.Of(i), cancellation);
                    if (place is null)
                    {
                        // Only the tables show power over time.
                        return one.Result with { Envelope = new PowerEnvelope(0) };
                    }

                    one.PutAway(shelf);
                    return one.Result;
                }, cancellation);
            }

            List<LogMeasurement> measured = [.. found.Select(f => binder.WithDoubt(parse, f))];
            var written = place is null
                ? []
                : MeasureFolder.Write(measured, place, formats.Count > 0 ? formats : [TableFormat.Csv], parse.GetValue(overwrite),
                    cancellation);
            Print(host, measured, written, parse.GetValue(format) == "json", parse.GetValue(quiet));
            NextStep.Say(host, parse.GetValue(quiet),
                "chargeaudit audit --wired LOG --inductive LOG compares two ways of charging; chargeaudit draft FOLDER writes a study of "
                + "many logs");
            return ExitStatus.Done;
        }, cancellation));
        return command;
    }

    private static void Print(CliHost host, List<LogMeasurement> measured, IReadOnlyList<string> written, bool json, bool quiet)
    {
        if (json)
        {
            host.Output.Write(ResultsJson.Measure(measured));
            return;
        }

        if (quiet)
        {
            return;
        }

        var text = new TerminalText(host);
        for (int i = 0; i < measured.Count; i++)
        {
            if (i > 0)
            {
                text.Line("");
            }

            MeasureText.Write(text, measured[i]);
        }

        if (written.Count > 0)
        {
            text.Line("");
            text.Line($"Tables: {string.Join(", ", written)}.");
        }
    }
}
