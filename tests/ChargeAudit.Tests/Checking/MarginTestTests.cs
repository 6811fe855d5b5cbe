using ChargeAudit.Checking;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Checking;

/// <summary>The bounds of a ratio where both figures share an error; expected values are roots of a quadratic, by hand.</summary>
public sealed class MarginTestTests
{
    private static readonly InfluenceSource Gain = new("meter:bench/gain");

    // A = 20 and B = 10, each with 1 % of one meter's gain, and with 0.1 and 0.05 of its own, all normal and known: k = 1.959964 at 2.5 %
    // to each side. (A − ρB)² = k²[(0.1² + ρ²·0.05²) + 0.01²(A − ρB)²], so (A − ρB)² = q(0.01 + 0.0025ρ²) with q = k²/(1 − 0.0001k²) =
    // 3.842935, and (100 − 0.0025q)ρ² − 400ρ + 400 − 0.01q = 0: ρ = 1.972467 and 2.027918. With the covariance left out they would lie near
    // 1.93 and 2.07.
    [Fact]
    public void A_gain_that_both_figures_share_does_not_widen_the_bounds()
    {
        var test = MarginTest.Against(Figure(20, 0.1, "a"), Figure(10, 0.05, "b"), 2.1, 0.025);
        Assert.Equal(1.972467, test.LowerBound, 1e-6);
        Assert.Equal(2.027918, test.UpperBound, 1e-6);
    }

    // At ρ₀ = 2.1: A − ρ₀B = −1, its variance 0.1² + 2.1²·0.05² + (0.2 − 2.1·0.1)² = 0.021125, so T = −1/0.145344 = −6.880209.
    [Fact]
    public void A_gain_that_both_figures_share_counts_by_what_is_left_of_it_at_the_limit() =>
        Assert.Equal(-1 / Math.Sqrt(0.021125), MarginTest.Against(Figure(20, 0.1, "a"), Figure(10, 0.05, "b"), 2.1, 0.025).T, 1e-9);

    private static Measured Figure(double value, double own, string id) =>
        Measured.From(value, "Wh", [new UncertaintyComponent(Gain, 0.01 * value), new UncertaintyComponent(new InfluenceSource(id), own)]);
}
