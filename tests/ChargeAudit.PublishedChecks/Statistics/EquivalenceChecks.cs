using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Two one-sided tests. Values from the test suite of the R package TOSTER (tests test-NCSS1.R and test-known_results.R, which quote
/// another statistics manual);
/// the procedure is that of Schuirmann 1987.
/// </summary>
public sealed class EquivalenceChecks
{
    private static readonly double[] YieldA = [452, 874, 554, 447, 356, 754, 558, 574, 664, 682, 547, 435, 245];
    private static readonly double[] YieldB = [546, 547, 774, 465, 459, 665, 467, 365, 589, 534, 456, 651, 654, 665, 546, 537];

    [Fact]
    public void Yield_differences_and_intervals()
    {
        var pooled = DifferenceOfMeans.Pooled(SampleStatistics.Of(YieldA), SampleStatistics.Of(YieldB));
        var welch = DifferenceOfMeans.Welch(SampleStatistics.Of(YieldA), SampleStatistics.Of(YieldB));

        Assert.Equal(-8.1153846, pooled.Difference, 5e-8);
        Assert.Equal(51.114285, pooled.StandardError, 5e-7);
        Assert.Equal(27, pooled.DegreesOfFreedom);
        Assert.Equal(-112.99323, pooled.Interval(0.95).Low, 5e-6);
        Assert.Equal(96.76246, pooled.Interval(0.95).High, 5e-6);
        Assert.Equal(53.618547, welch.StandardError, 5e-7);
        Assert.Equal(19.169, welch.DegreesOfFreedom, 5e-4);
        Assert.Equal(-120.27336, welch.Interval(0.95).Low, 5e-6);
        Assert.Equal(104.04259, welch.Interval(0.95).High, 5e-6);

        // Recomputed elsewhere from the same data (scipy).
        Assert.Equal(-0.151354057, welch.T, 5e-10);
        Assert.Equal(0.881277932, welch.TwoSidedP, 5e-10);
        Assert.Equal(0.875032177, pooled.TwoSidedP, 5e-10);
    }

    [Fact]
    public void Yield_equivalence_within_110()
    {
        var pooled = Equivalence.Test(DifferenceOfMeans.Pooled(SampleStatistics.Of(YieldA), SampleStatistics.Of(YieldB)), -110, 110);
        var welch = Equivalence.Test(DifferenceOfMeans.Welch(SampleStatistics.Of(YieldA), SampleStatistics.Of(YieldB)), -110, 110);

        Assert.Equal(0.02821, pooled.PLow, 5e-6);
        Assert.Equal(0.01436, pooled.PHigh, 5e-6);
        Assert.Equal(0.03628, welch.PLow, 5e-6);
        Assert.Equal(0.02002, welch.PHigh, 5e-6);
        Assert.Equal(welch.PLow, welch.P);
    }

    [Fact]
    public void Two_samples_from_their_summaries()
    {
        var welch = DifferenceOfMeans.Welch(new SampleStatistics(95, 5.25, 0.95), new SampleStatistics(89, 5.22, 0.83));
        var result = Equivalence.Test(welch, -0.384, 0.384);

        Assert.Equal(3.153015, result.TLow, 5e-7);
        Assert.Equal(0.0009458745, result.PLow, 5e-10);
        Assert.Equal(-2.696056, result.THigh, 5e-7);
        Assert.Equal(0.003838994, result.PHigh, 5e-10);
        Assert.Equal(181.1344, welch.DegreesOfFreedom, 5e-5);
        Assert.Equal(-0.1870843, welch.Interval(0.90).Low, 5e-8);
        Assert.Equal(0.2470843, welch.Interval(0.90).High, 5e-8);
        Assert.Equal(-0.2290799, welch.Interval(0.95).Low, 5e-8);
        Assert.Equal(0.2890799, welch.Interval(0.95).High, 5e-8);
    }

    [Fact]
    public void One_sample_from_its_summary()
    {
        var result = Equivalence.Test(DifferenceOfMeans.OneSample(new SampleStatistics(300, 0.52, 0.5), 0.5), -0.1, 0.1);

        Assert.Equal(4.156922, result.TLow, 5e-7);
        Assert.Equal(2.108451e-5, result.PLow, 5e-12);
        Assert.Equal(-2.771281, result.THigh, 5e-7);
        Assert.Equal(0.002966762, result.PHigh, 5e-10);
    }

    [Fact]
    public void Pairs_from_their_summary()
    {
        // n 65, standard deviations 1.17 and 1.30, correlation 0.745: the differences' deviation follows.
        double deviation = Math.Sqrt((1.17 * 1.17) + (1.30 * 1.30) - (2 * 0.745 * 1.17 * 1.30));
        var paired = DifferenceOfMeans.OneSample(new SampleStatistics(65, 5.83 - 5.75, deviation), 0);
        var result = Equivalence.Test(paired, -0.34, 0.34);

        Assert.Equal(3.803437, result.TLow, 5e-7);
        Assert.Equal(0.0001606103, result.PLow, 5e-11);
        Assert.Equal(-2.354508, result.THigh, 5e-7);
        Assert.Equal(0.01081349, result.PHigh, 5e-9);
        Assert.Equal(-0.1043032, paired.Interval(0.90).Low, 5e-8);
        Assert.Equal(0.2643032, paired.Interval(0.90).High, 5e-8);
    }
}
