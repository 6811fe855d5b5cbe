using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.RandomEffects;

namespace ChargeAudit.Tests.Pooling.RandomEffects;

/// <summary>Scatters of few runs, shared out. Expected values by hand.</summary>
public class ModeratedErrorsTests
{
    // Standard uncertainties of means of three runs: what they show together is the sum of their squares, and stays so; the least one,
    // which three runs gave by chance, no longer dominates a mean.
    [Fact]
    public void Moderation_shares_out_what_the_runs_showed_and_adds_nothing()
    {
        double[] shown = [0.001, 0.02, 0.004, 0.012, 0.007];
        var moderated = ModeratedErrors.Of([.. shown.Select((u, i) => Figure(u, i, 2))]);
        double[] after = [.. moderated.Select(m => m.StandardUncertainty!.Value)];
        Assert.Equal(shown.Sum(u => u * u), after.Sum(u => u * u), 1e-12);
        Assert.True(after[0] > 0.003);
        Assert.True(after[1] < 0.02);
    }

    // Equal scatters of two degrees of freedom each: (5 v)²/(5 v²/(2 + 2)) = 20 beside the 10 that equal true ones have, since estimates
    // that agree so well differ less than so few runs would make them. Where one has it all: v²/(v²/4) = 4 beside its own 2.
    [Fact]
    public void Degrees_of_freedom_of_their_common_size()
    {
        Assert.Equal(20, ModeratedErrors.DegreesOfFreedomOfSize([.. Enumerable.Range(0, 5).Select(i => Figure(0.01, i, 2))]), 1e-9);
        Assert.Equal(4, ModeratedErrors.DegreesOfFreedomOfSize([Figure(0.01, 0, 2), Figure(0, 1, 2)]), 1e-9);
        Assert.Equal(double.PositiveInfinity, ModeratedErrors.DegreesOfFreedomOfSize([Figure(0.01, 0, double.PositiveInfinity)]));
    }

    [Fact]
    public void Another_size_changes_scatters_alone()
    {
        var gain = InfluenceSource.OfMeter("plug", SourceKind.MeterGain, "power-gain", ErrorShape.Rectangular);
        var meter = new UncertaintyComponent(gain, 0.03);
        var figure = ModeratedErrors.WithSize([Figure(0.02, 0, 2).Plus(meter)], 4)[0];
        Assert.Equal(Math.Sqrt((0.04 * 0.04) + (0.03 * 0.03)), figure.StandardUncertainty!.Value, 1e-12);
    }

    private static Measured Figure(double uncertainty, int i, double freedom) => Measured.From(1, "1",
        [new UncertaintyComponent(InfluenceSource.ScatterOf($"m{i}", "wall") with { DegreesOfFreedom = freedom }, uncertainty)]);
}
