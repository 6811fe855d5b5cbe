using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 106:2012, conformance probability and guard bands (formulas from memory; the example is worked out elsewhere from
/// them).</summary>
public sealed class Jcgm106ConformityChecks
{
    private static Measured Watts(double value, double u) => Measured.From(value, "W", [new(new InfluenceSource("meter:plug/power-gain"), u)]);

    [Fact]
    public void A_stand_by_power_below_its_limit()
    {
        // y 0.28 W, u 0.012 W, limit 0.30 W: p = 0.952210; acceptance limit with r = 1 and U = 2u: 0.276 W. So: accepted simply, rejected
        // with the guard band.
        var measured = Watts(0.28, 0.012);
        Assert.Equal(0.952210, Conformity.ProbabilityBelow(measured, 0.30)!.Value, 5e-7);
        double acceptance = Conformity.AcceptanceLimit(0.30, 2 * 0.012);
        Assert.Equal(0.276, acceptance, 1e-12);
        Assert.True(measured.Value < Conformity.AcceptanceLimit(0.30, 2 * 0.012, guardShare: 0));
        Assert.True(measured.Value > acceptance);
    }

    [Fact]
    public void At_the_acceptance_limit_the_probability_is_that_of_two_standard_deviations() =>
        Assert.Equal(0.977250, Conformity.ProbabilityBelow(Watts(0.276, 0.012), 0.30)!.Value, 5e-7);
}
