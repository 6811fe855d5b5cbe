using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

/// <summary>The scenarios in docs/scenarios/ can be read, run, and give what such devices plausibly do.</summary>
public sealed class ScenarioFilesTests
{
    public static TheoryData<string> Names() =>
        [.. Directory.GetFiles(Folder(), "*.toml").Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    [Fact]
    public void There_are_ten_from_earbud_case_to_tablet()
    {
        double[] energies = [.. Names().Select(n => SimulationScenario.Load(Path.Combine(Folder(), n.Data)).Device.BatteryWh)];
        Assert.Equal(10, energies.Length);
        Assert.Equal(1.5, energies.Min());
        Assert.Equal(30, energies.Max());
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_scenario_gives_a_plausible_study(string name)
    {
        SimulationScenario scenario = SimulationScenario.Load(Path.Combine(Folder(), name));
        SimulatedStudy study = Simulator.Run(scenario, scenario.Seed);
        Assert.Equal(6, study.Runs.Count);
        Assert.InRange(StudyTruth.OverheadRatio(study, "pad", MeasuringPoint.Wall), 1.15, 2);
        Assert.Equal(1, StudyTruth.OverheadRatio(study, "pad", MeasuringPoint.Device), 0.05);
        Assert.InRange(StudyTruth.NoLoadW(study, "pad", MeasuringPoint.Wall), 0.05, 0.5);
        Assert.All(study.Runs, run =>
        {
            Assert.InRange(run.Trace.DurationOfS(Mode.Charge), 3600, 5 * 3600);
            double stored = run.Trace.SumWh(Mode.Charge, s => s.StoredW);
            Assert.InRange(stored / scenario.Device.BatteryWh, 0.7, 0.97);
            Assert.InRange(run.Trace.Steps.Max(s => s.TemperatureC), scenario.Device.AmbientC, 50);
            Assert.All(run.Logs, log => Assert.True(log.Rows > 300, log.FileName + " has rows"));
        });
        // Charging on the pad ends at the same battery state as by cable: within a hundredth.
        double[] ends = [.. study.Runs.Select(r => r.Trace.Steps.Last(s => s.Mode == Mode.Charge).ShareAfter)];
        Assert.True(ends.Max() - ends.Min() < 0.01);
    }

    internal static string Folder()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "ChargeAudit.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return Path.Combine(folder
            ?? throw new InvalidOperationException("The tests do not run inside the repository."), "docs", "scenarios");
    }
}
