using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// JCGM 106:2012, 8.3.2: acceptance with a guard band of a whole expanded uncertainty, as <see cref="Yardsticks"/> words a figure beside a
/// limit (formulas from memory). Limit 0.10 W, u 0.012 W, k 1.959964: accepted up to 0.07648 W, where the probability of lying below the
/// limit is 97.5 %; refused from 0.12352 W.
/// </summary>
public sealed class Jcgm106ConformityChecks
{
    private const double LimitW = 0.10;
    private const double U = 0.012;

    [Theory]
    [InlineData(0.0764, Standing.Inside)]
    [InlineData(0.0766, Standing.CannotTell)]
    [InlineData(0.1234, Standing.CannotTell)]
    [InlineData(0.1236, Standing.Beyond)]
    public void A_stand_by_power_beside_its_limit(double powerW, Standing expected)
    {
        var yardstick = Yardsticks.At("eu-2019-1782/ac-dc/no-load", 20, new DateOnly(2026, 11, 1))!;
        var finding = Yardsticks.Compare(yardstick, 20, Figure.Of(Measured.From(powerW, "W", [new(new InfluenceSource("power"), U)])));
        Assert.Equal(LimitW, finding.Limit);
        Assert.Equal(expected, finding.Standing);
    }

    [Fact]
    public void Conformance_probability()
    {
        // y 0.28 W, u 0.012 W, limit 0.30 W: p = 0.952210; at the acceptance limit with U = 2u, 0.276 W, that of two standard deviations.
        Assert.Equal(0.952210, StudentDistribution.UpperTail(-(0.30 - 0.28) / U, double.PositiveInfinity), 5e-7);
        Assert.Equal(0.977250, StudentDistribution.UpperTail(-(0.30 - 0.276) / U, double.PositiveInfinity), 5e-7);
    }
}
