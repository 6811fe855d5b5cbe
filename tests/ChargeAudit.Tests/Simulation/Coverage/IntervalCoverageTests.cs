using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Simulation;

namespace ChargeAudit.Tests.Simulation.Coverage;

public sealed class IntervalCoverageTests
{
    /// <summary>Intervals of one standard uncertainty about a known error: −0.5, 0 and 3 of it. Two of three hold the truth at any usual
    /// coverage.</summary>
    [Fact]
    public void Held_missed_and_unknown_intervals_are_counted()
    {
        double[] errors = [-0.5, 0, 3, 0];
        int i = 0;
        var rows = IntervalCoverage.Count([SmallScenario.Short() with { Runs = [] }], [1, 2, 3, 4], _ =>
        {
            double found = 10 + (0.1 * errors[i]);
            Measured measured = i++ == 3 ? Measured.Unknown(found, "Wh", "no accuracy stated")
                : Measured.From(found, "Wh", [new UncertaintyComponent(new InfluenceSource("x"), 0.1)]);
            return [new CoverageTrial("energy", 10, measured)];
        });
        CoverageRow row = Assert.Single(rows);
        Assert.Equal((3, 2, 1), (row.Trials, row.Held, row.Unknown));
        Assert.Equal(1.96, row.MeanHalfWidthPercent, 0.001);
        Assert.Equal(Math.Sqrt((0.25 + 9) / 4), row.RootMeanSquareErrorPercent, 1e-9);
        Assert.Contains("| energy | 3 | 66.7 % | 1 |", IntervalCoverage.ToMarkdown(rows), StringComparison.Ordinal);
    }

    [Fact]
    public void True_ratio_is_that_of_the_true_energies()
    {
        SimulatedStudy study = Simulator.Run(SmallScenario.Short(), 1);
        double ratio = StudyTruth.OverheadRatio(study, "pad", MeasuringPoint.Wall);
        Assert.Equal(StudyTruth.EnergyPerChargeWh(study, "pad", MeasuringPoint.Wall)
            / StudyTruth.EnergyPerChargeWh(study, "cable", MeasuringPoint.Wall), ratio);
        Assert.True(ratio > 1.2);
        Assert.True(
            StudyTruth.MaintenanceW(study, "pad", MeasuringPoint.Wall) > StudyTruth.MaintenanceW(study, "cable", MeasuringPoint.Wall));
        Assert.True(double.IsNaN(StudyTruth.EnergyPerChargeWh(study, "stand", MeasuringPoint.Wall)));
    }
}
