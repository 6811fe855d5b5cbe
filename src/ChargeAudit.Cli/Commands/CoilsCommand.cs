using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Coils;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Folders;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>coils</c>: the physics of two coupled coils, from whatever is known about them.</summary>
internal static class CoilsCommand
{
    private const string Scope = "These figures hold for the coils alone.";

    public static Command Create(CliHost host)
    {
        var entries = CoilData.Keys.Select(k => (k.Key, Option: CommonOptions.Text($"--{k.Key}", Describe(k.Unit), "VALUE"))).ToList();
        var chart =
            CommonOptions.Text("--chart", "draw load power and input phase over frequency (PNG or SVG, by the name's ending)", "FILE");
        var format = CommonOptions.Format();
        var command =
            new Command("coils",
            "Works out the physics of two coupled coils: resonance, coupling, best load, best possible efficiency. Give what is known, "
                + "such as "
            + "--primary 21uH.") { chart, format };
        foreach (var (_, option) in entries)
        {
            command.Options.Add(option);
        }

        command.SetAction((ParseResult parse) =>
        {
            var given = entries.Where(e => parse.GetValue(e.Option) is not null).ToDictionary(e => e.Key, e => parse.GetValue(e.Option)!);
            if (given.Count == 0)
            {
                throw new InputException(InputProblem.Usage,
                    "nothing is known about the coils; give at least one value, such as --primary 21uH --primary-capacitance 100nF");
            }

            if (parse.GetValue(chart) is { } named)
            {
                ChartFile.Check(named);
            }

            var report = CoilReport.From(CoilData.Read(given, "the command line"));
            if (parse.GetValue(chart) is { } file)
            {
                ChartFile.Write(
                    CoilsChart.Draw(report)
                        ?? throw new InputException(InputProblem.Usage,
                        $"a chart needs a link of two coils; {string.Join(", ", report.Data.Missing)} is missing"), file);
            }

            if (parse.GetValue(format) == "json")
            {
                host.Output.Write(ResultsJson.Coils(report));
            }
            else
            {
                var text = new TerminalText(host);
                foreach (string line in report.ToText().TrimEnd('\n').Split('\n'))
                {
                    text.Line(line);
                }

                text.Line($"{Scope} {Cautions.Line} {CautionText.Elsewhere}");
            }

            return ExitStatus.Done;
        });
        return command;
    }

    private static string Describe(string unit) => unit == "1" ? "a number" : $"with its unit: {unit}, with or without a prefix";
}
