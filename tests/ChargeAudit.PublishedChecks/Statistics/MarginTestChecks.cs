using ChargeAudit.Checking;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// The test that a regression check calls, on scatter alone: that of A. C. Tamhane and B. R. Logan, Biometrical Journal 46 (2004). Expected
/// values are the closed form on invented charging data, worked out elsewhere (Python, double precision).
/// </summary>
public sealed class MarginTestChecks
{
    private static readonly double[] CableWh = [13.18, 13.25, 13.21, 13.30, 13.16];
    private static readonly double[] PadWh = [19.65, 19.92, 19.80, 20.05, 19.71];

    [Fact]
    public void Overhead_below_1_52()
    {
        var test = MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), 1.52, 0.05);
        Assert.Equal(-3.288477, test.T, 5e-7);
        Assert.Equal(6.074559, test.DegreesOfFreedom, 5e-7);
        Assert.Equal(0.008175, test.PWithin, 5e-7);
        Assert.Equal(1 - test.PWithin, test.PBeyond, 1e-12);
    }

    [Fact]
    public void Overhead_below_1_50() =>
        Assert.Equal(0.481194, MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), 1.50, 0.05).PWithin, 5e-7);

    // Fieller's printed limits use one number of degrees of freedom, that at the ratio found; here each bound has its own, which differs by
    // 0.05 in 6.
    [Fact]
    public void Both_bounds_at_2_5_percent_are_the_ends_of_Fiellers_set()
    {
        var test = MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), 1.52, 0.025);
        Assert.Equal(1.484683, test.LowerBound, 5e-5);
        Assert.Equal(1.514776, test.UpperBound, 5e-5);
    }

    [Fact]
    public void A_bound_put_back_into_the_test_gives_its_level()
    {
        var test = MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), 1.52, 0.05);
        Assert.Equal(0.05, MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), test.UpperBound, 0.05).PWithin, 1e-9);
        Assert.Equal(0.05, MarginTest.Against(Scatter.Mean(PadWh, "a"), Scatter.Mean(CableWh, "b"), test.LowerBound, 0.05).PBeyond, 1e-9);
    }

    [Fact]
    public void A_margin_of_nothing_is_the_test_of_two_means()
    {
        // Data and degrees of freedom from a public test suite; t and p recomputed elsewhere (scipy): −0.151354057, two-sided 0.881277932.
        double[] a = [452, 874, 554, 447, 356, 754, 558, 574, 664, 682, 547, 435, 245];
        double[] b = [546, 547, 774, 465, 459, 665, 467, 365, 589, 534, 456, 651, 654, 665, 546, 537];
        var test = MarginTest.Against(Scatter.Mean(a, "a"), Scatter.Mean(b, "b"), 1, 0.05);
        Assert.Equal(-0.151354057, test.T, 5e-10);
        Assert.Equal(19.169, test.DegreesOfFreedom, 5e-4);
        Assert.Equal(0.881277932, 2 * test.PWithin, 1e-9);
    }
}
