using System.CommandLine;
using System.Globalization;
using System.Text;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Json;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>simulate</c>: writes the logs of an invented charge, a study file for them, and the true energies beside them.</summary>
internal static class SimulateCommand
{
    public static Command Create(CliHost host)
    {
        var scenario = new Argument<string?>("SCENARIO")
        {
            Description = "scenario file (TOML); without one, the study in sample-logs is made again",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var folder = new Option<string>("--out")
        {
            Description = "folder for the logs",
            HelpName = "DIR",
            DefaultValueFactory = _ => "simulated-study",
        };
        var seed = new Option<string?>("--seed")
        {
            Description = "seed of the random numbers: a whole number (default: the scenario's own)",
            HelpName = "NUMBER",
        };
        var meterSeed = new Option<string?>("--meter-seed")
        {
            Description = "keep the meters of another seed, as when a design and its baseline are measured with the same ones",
            HelpName = "NUMBER",
        };
        var overwrite = CommonOptions.Overwrite();
        var format = CommonOptions.Format();
        var quiet = CommonOptions.Quiet();
        var command = new Command("simulate", "Writes the logs of an invented charge, with the true energies beside them.") { scenario,
            folder, overwrite, seed, meterSeed, format, quiet };
        command.SetAction((parse, cancellation) => Task.Run(() =>
        {
            var model = parse.GetValue(scenario) is { } path ? SimulationScenario.Load(path) : SampleStudy.Scenario;
            ulong number = parse.GetValue(seed) is { } given ? SeedOf("--seed", given) : model.Seed;
            if (model.Family is not null)
            {
                SimulateFamily(host, model, number, parse.GetValue(folder)!, parse.GetValue(overwrite), parse.GetValue(format) == "json",
                    parse.GetValue(quiet), cancellation);
                return ExitStatus.Done;
            }

            var study = Simulator.Run(model, number, parse.GetValue(meterSeed) is { } kept ? SeedOf("--meter-seed", kept) : null);
            cancellation.ThrowIfCancellationRequested();
            string target = parse.GetValue(folder)!;
            var texts = StudyWriter.Files(study);
            var files = texts.Select(f => f.Name).ToList();
            var replaced = files.Where(n => File.Exists(Path.Combine(target, n))).ToList();
            Write(texts, target, parse.GetValue(overwrite), cancellation);
            if (parse.GetValue(format) == "json")
            {
                host.Output.Write(ResultsJson.Simulate(target, number, files, replaced));
            }
            else if (!parse.GetValue(quiet))
            {
                var text = new TerminalText(host);
                text.Line(InvariantText.Of($"{model.Title}: {files.Count} files in {target}, seed {number}."));
                if (replaced.Count > 0)
                {
                    text.Line(
                        InvariantText.Of(
                            $"{replaced.Count} files of the same names stood there and were replaced: {string.Join(", ", replaced)}."));
                }

                text.Line($"The true energies stand in truth.json. Next: chargeaudit audit {Path.Combine(target, "study.toml")}");
            }

            return ExitStatus.Done;
        }, cancellation));
        return command;
    }

    private static void SimulateFamily(
        CliHost host, SimulationScenario scenario, ulong seed, string folder, bool overwrite, bool json, bool quiet,
            CancellationToken cancellation)
    {
        var texts = new List<(string Name, string Text)>();
        var members = FamilySimulation.Members(scenario, seed);
        foreach (var member in members)
        {
            cancellation.ThrowIfCancellationRequested();
            var study = Simulator.Run(member.Scenario, member.Seed, seed);
            texts.AddRange(StudyWriter.Files(study).Select(f => ($"{member.Folder}/{f.Name}", f.Text)));
        }

        texts.Add(("pool.toml", FamilySimulation.List(scenario, members)));
        texts.Add(("family.json", FamilySimulation.Truth(scenario, seed, members)));
        var files = texts.Select(f => f.Name).ToList();
        var replaced = files.Where(n => File.Exists(Path.Combine(folder, n))).ToList();
        Write(texts, folder, overwrite, cancellation);
        if (json)
        {
            host.Output.Write(ResultsJson.Simulate(folder, seed, files, replaced));
        }
        else if (!quiet)
        {
            var text = new TerminalText(host);
            text.Line(
                InvariantText.Of(
                    $"{scenario.Title}: {members.Count} devices in {folder}, seed {seed}. What sets each apart stands in family.json, the "
                + $"true energies in each truth.json."));
            text.Line("Next, for each device, and then once:");
            text.Line(
                $"  chargeaudit audit {Path.Combine(folder, members[0].Folder, "study.toml")} --out "
                + $"{Path.Combine(folder, members[0].Folder, "report")}");
            text.Line($"  chargeaudit pool {Path.Combine(folder, "pool.toml")}");
        }
    }

    private static void Write(IReadOnlyList<(string Name, string Text)> files, string folder, bool overwrite,
        CancellationToken cancellation) => ResultFolder.Write(
        [.. files.Select(f => (f.Name, Encoding.UTF8.GetBytes(f.Text)))], folder, overwrite,
            cancellation: cancellation);

    private static ulong SeedOf(string option, string text) =>
        ulong.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out ulong seed)
        ? seed
        : throw new InputException(InputProblem.Usage, $"{option} is \"{text}\"; a whole number from 0 was expected");
}
