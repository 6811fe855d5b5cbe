using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Charts;

namespace ChargeAudit.Tests.Reports.Charts;

/// <summary>A chart over time shows no more thin lines than can be told apart, and says so.</summary>
public sealed class RunsAtPointTests
{
    [Fact]
    public void Up_to_forty_other_runs_are_all_drawn()
    {
        var runs = Of(40);

        Assert.Equal(runs.Others, runs.Lines);
        Assert.Equal("Thin lines: the other runs.", RunsAtPoint.LinesNote([runs]));
    }

    [Fact]
    public void Of_more_runs_forty_are_drawn_evenly_from_the_least_energy_to_the_greatest()
    {
        var runs = Of(118);

        // 117 steps between 118 runs, 39 between 40 lines: every third run.
        Assert.Equal(Enumerable.Range(0, 40).Select(i => 3.0 * i), runs.Lines.Select(r => r.Energy.Value));
        Assert.StartsWith("Thin lines: other runs, at most 40 for each method", RunsAtPoint.LinesNote([Of(3), runs]),
            StringComparison.Ordinal);
    }

    private static RunsAtPoint Of(int others)
    {
        return new RunsAtPoint(0, "cable", ("middle", Run(0)), [.. Enumerable.Range(0, others).Select(i => Run(i))]);

        RunPointResult Run(double energyWh) => new(null!, null, null!, Measured.Unknown(energyWh, "Wh", "none"), Figure.None("none"));
    }
}
