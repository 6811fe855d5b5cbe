using ChargeAudit.Logs;
using ChargeAudit.Simulation;

namespace ChargeAudit.Tests.Simulation.Coverage;

/// <summary>The smoke form of the coverage study: a few studies, so the program and its truth are wired together as in the full
/// form.</summary>
public sealed class AuditTrialsTests
{
    [Fact]
    public void An_audit_of_simulated_logs_comes_close_to_the_truth()
    {
        ulong[] seeds = [1, 2];
        ExpectedTruth expected = ExpectedTruth.Of(SampleStudy.Scenario, [11, 12, 13, 14]);
        string folder = Directory.CreateTempSubdirectory("chargeaudit-trials-").FullName;
        try
        {
            var rows = IntervalCoverage.Count([SampleStudy.Scenario], seeds, s => AuditTrials.Of(s, expected, folder, TimeProvider.System));
            Assert.Equal(["energyPerCharge/usb", "energyPerCharge/wall", "noLoadPower/wall", "overheadRatio/usb", "overheadRatio/wall"],
                rows.Select(r => r.Figure));
            CoverageRow ratio = rows.Single(r => r.Figure == "overheadRatio/wall");
            Assert.Equal(seeds.Length, ratio.Trials + ratio.Unknown);
            // Coverage needs hundreds of studies; here only gross errors would show: 2 % is five times the expected error.
            Assert.InRange(ratio.RootMeanSquareErrorPercent, 0, 2);
            Assert.InRange(rows.Single(r => r.Figure == "energyPerCharge/wall").RootMeanSquareErrorPercent, 0, 2);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void Expected_energies_are_the_mean_over_repeats()
    {
        var scenario = SmallScenario.Short();
        ulong[] seeds = [1, 2, 3];
        ExpectedTruth expected = ExpectedTruth.Of(scenario, seeds);
        double mean = seeds.Average(s => StudyTruth.EnergyPerChargeWh(Simulator.Run(scenario, s), "pad", MeasuringPoint.Wall));
        Assert.Equal(mean, expected.EnergyPerChargeWh("pad", MeasuringPoint.Wall), 1e-12);
        Assert.True(double.IsNaN(expected.EnergyPerChargeWh("stand", MeasuringPoint.Wall)));
    }
}
