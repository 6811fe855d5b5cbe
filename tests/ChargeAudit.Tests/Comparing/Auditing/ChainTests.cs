using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Simulation;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>A simulated study with meters at all four points, audited, beside its truth.</summary>
public sealed class ChainTests
{
    private static readonly Lazy<(SimulatedStudy Study, AuditResult Audit)> Whole = new(() => Audited(FourMeters(300), text => text));

    [Fact]
    public void Logs_at_the_device_and_the_battery_split_the_whole_way_on_the_same_terms()
    {
        var (study, audit) = Whole.Value;
        foreach (var method in audit.Methods)
        {
            var losses = Assert.Single(audit.Losses, l => l.Method == method.Name);
            Assert.Equal(4, method.Points.Count);
            var points = Enum.GetValues<MeasuringPoint>();
            for (int i = 0; i + 1 < points.Length; i++)
            {
                double truth = StudyTruth.EnergyPerChargeWh(study, method.Name, points[i])
                    - StudyTruth.EnergyPerChargeWh(study, method.Name, points[i + 1]);
                var part = Assert.Single(losses.Parts, p => p.From == points[i] && p.To == points[i + 1]);

                // Meters of half a per cent at the wall and a tenth elsewhere, on energies about ten times the loss.
                Assert.InRange(part.EnergyWh.Value!.Value, truth - 0.15, truth + 0.15);
            }
        }

        Assert.Contains(audit.Losses.Single(l => l.Method == "cable").Parts, p => p.Places is [LossPlace.Cable]);
        Assert.Contains(audit.Losses.Single(l => l.Method == "pad").Parts, p => p.Places is [LossPlace.Cable, LossPlace.PadAndReceiver]);
    }

    [Fact]
    public void More_energy_out_than_in_is_flagged_with_its_reasons_and_its_probability()
    {
        var (_, audit) = Audited(FourMeters(300), text => text
            .Replace("cable-1-usb.csv", "cable-1-swap.csv", StringComparison.Ordinal)
            .Replace("cable-1-device.csv", "cable-1-usb.csv", StringComparison.Ordinal)
            .Replace("cable-1-swap.csv", "cable-1-device.csv", StringComparison.Ordinal));
        var check = Assert.Single(audit.Stages, s => s.Method == "cable" && s.From == MeasuringPoint.Usb).Check;
        Assert.NotNull(check);
        Assert.InRange(check.Probability!.Value, 0, 0.05);
        Assert.Contains("swapped", check.Text, StringComparison.Ordinal);
        Assert.All(audit.Stages.Where(s => s.Method == "pad"), s => Assert.Null(s.Check));
    }

    [Fact]
    public void An_adapter_measured_on_both_sides_shows_its_own_losses_and_nothing_outside_the_loads_seen()
    {
        var (study, audit) = Whole.Value;
        var model = study.Runs[0].Plan.Method.Adapter;
        foreach (var curve in audit.AdapterCurves)
        {
            double outW = curve.GreatestOutW;
            double outA = outW / curve.OutV;
            double truth = outW / (model.NoLoadW + (outW * (1 + model.Share)) + (model.LossOhm * outA * outA));
            var found = curve.Efficiencies[^1].Efficiency.Value!;
            Assert.InRange(found.Value, truth - (3 * found.StandardUncertainty!.Value), truth + (3 * found.StandardUncertainty!.Value));
            Assert.Equal(["25", "50", "75", "100"],
                curve.Rated.Select(r => r.SharePercent.ToString(System.Globalization.CultureInfo.InvariantCulture)));
            Assert.All(curve.Rated, r => Assert.Equal(r.OutW <= 1.02 * curve.GreatestOutW, r.Efficiency.Value is not null));
            Assert.StartsWith("not measured", curve.Average.WhyNot, StringComparison.Ordinal);
        }

        Assert.Equal(["cable", "pad"], audit.AdapterCurves.Select(c => c.Method));
    }

    [Fact]
    public void An_adapter_seen_at_all_four_loads_stands_beside_the_published_mean_as_information()
    {
        // A nameplate at which the four loads lie within what the runs showed; the sample's own, 20 W, is beyond it.
        var curve = Whole.Value.Audit.AdapterCurves.First(c => c.Method == "cable");
        double outputW = Math.Floor(curve.GreatestOutW);
        Assert.InRange(0.25 * outputW, curve.LeastOutW, curve.GreatestOutW);
        string output = outputW.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var (_, audit) = Audited(FourMeters(300), text => text, output);
        var average = audit.AdapterCurves.First(c => c.Method == "cable").Average.Value!;
        var line = Assert.Single(audit.Yardsticks.Single(y => y.Method == "cable").Findings, f => f.Yardstick.Id
            == "eu-2019-1782/ac-dc/efficiency");
        Assert.Equal(average.Value, line.Value.Value!.Value, 12);
        Assert.Contains("rests on the loss curve fitted to the runs of cable", line.Text, StringComparison.Ordinal);
        Assert.Contains("not a certificate", line.Text, StringComparison.Ordinal);

        var beyond = Assert.Single(Whole.Value.Audit.Yardsticks.Single(y => y.Method == "cable").Findings, f => f.Yardstick.Id
            == "eu-2019-1782/ac-dc/efficiency");
        Assert.Null(beyond.Value.Value);
        Assert.Contains("the loads seen end at", beyond.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Maintenance_logged_long_enough_is_the_mean_of_its_last_four_hours()
    {
        var scenario = FourMeters(5 * 3600);
        var (study, audit) =
            Audited(scenario with { Runs = [.. scenario.Runs.Select(r => r with { Meters = [.. r.Meters.Take(2)] })] }, text => text);
        foreach (var method in audit.Methods)
        {
            var wall = method.Points[MeasuringPoint.Wall];
            Assert.Contains(wall.StandbyNotes, n => n.Contains("last four hours", StringComparison.Ordinal));
            double truth = StudyTruth.MaintenanceW(study, method.Name, MeasuringPoint.Wall);
            Assert.InRange(wall.MaintenancePower.Value!.Value, truth - 0.03, truth + 0.03);
        }
    }

    [Fact]
    public void A_log_made_for_waiting_tells_the_runs_what_waiting_draws_and_stays_behind_them_in_the_list()
    {
        var sample = SmallScenario.Sample;
        var (_, audit) = Audited(FourMeters(300) with { Waiting = sample.Waiting }, text => text);
        Assert.NotEmpty(audit.Methods[1].Points[MeasuringPoint.Wall].StandbyNotes);
        int firstWaiting = audit.Logs.ToList().FindIndex(l => l.Files[0].Contains("waiting", StringComparison.Ordinal));
        Assert.All(audit.Logs.Skip(firstWaiting), l => Assert.Contains("waiting", l.Files[0], StringComparison.Ordinal));
        Assert.All(audit.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values),
            p => Assert.Single(p.Log.Modes, m => m.Span.Mode == Mode.Charge));
    }

    private static SimulationScenario FourMeters(double maintenanceS)
    {
        var scenario = SmallScenario.Short(0.3);
        var usb = scenario.Meters.First(m => m.Point == MeasuringPoint.Usb);
        var wall = scenario.Meters.First(m => m.Point == MeasuringPoint.Wall);
        MeterModel[] meters = [wall, usb, usb with { Name = "inner", Point = MeasuringPoint.Device }, usb with
        {
            Name = "cell",
            Point = MeasuringPoint.Battery,
        }];
        return scenario with
        {
            Meters = meters,
            Runs = [.. scenario.Runs.Select(r => r with { Meters = meters, MaintenanceS = maintenanceS, NoLoadBeforeS = 240 })],
        };
    }

    private static (SimulatedStudy Study, AuditResult Audit) Audited(SimulationScenario scenario, Func<string, string> change,
        string outputW = "20")
    {
        string folder = Path.Combine(Path.GetTempPath(), $"chargeaudit-chain-{Guid.NewGuid():N}");
        try
        {
            var study = Simulator.Run(scenario, 11);
            WrittenStudy.To(study, folder);
            string file = Path.Combine(folder, "study.toml");
            File.WriteAllText(file, change(File.ReadAllText(file)) + $"\n[adapter]\noutput = \"{outputW} W\"\nkind = \"ac-dc\"\n");
            return (study, Auditor.Run(StudyReader.Load(file), new AuditOptions
            {
                ProgramVersion = "",
                CommandLine = "",
                StudyFile = file,
                Clock = TimeProvider.System,
            }));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
