using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Tests.Pooling;

/// <summary>A short form of the table in docs/pool.md; the full one is made by the benchmarks' command <c>pool</c>.</summary>
public sealed class PoolCoverageTests
{
    private const int Pools = 60;

    // An interval that holds in 95 of 100 cases holds in fewer than 51 of 60 with a probability of 0.1 %.
    private const double Least = 51.0 / Pools;

    [Theory]
    [InlineData(3, 0, PoolFigure.OverheadRatio, true)]
    [InlineData(3, 0.03, PoolFigure.OverheadRatio, true)]
    [InlineData(5, 0.005, PoolFigure.OverheadRatio, true)]
    [InlineData(5, 0.01, PoolFigure.EnergyPerCharge, true)]
    [InlineData(10, 0.03, PoolFigure.EnergyPerCharge, false)]
    public void Intervals_hold_the_truth(int devices, double spread, PoolFigure figure, bool oneMeter)
    {
        var shares = PoolCoverage.Simulate(new PoolTruth(devices, spread, oneMeter), figure, Pools, 20_270_105);
        Assert.All(new[] { shares.Mean, shares.Device, shares.Measurement, shares.Spread }, s => Assert.InRange(s, Least, 1));

        // With three devices t has two degrees of freedom: 4.3 instead of 1.96.
        Assert.InRange(shares.MeanWidth, 0.7, 4);
    }
}
