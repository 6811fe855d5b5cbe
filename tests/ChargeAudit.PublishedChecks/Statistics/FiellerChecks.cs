using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Ratio of means. Unbounded case: data of NIST Dataplot, RATIO OF MEANS CONFIDENCE INTERVAL (from Lehtonen and Pahkinen 2004). No
/// published numeric bounded case is
/// known; the bounded ones are the closed form worked out elsewhere (Python, double precision), with a property that needs no reference.
/// </summary>
public sealed class FiellerChecks
{
    private static readonly double[] Unemployed = [4123, 760, 721, 142, 187, 331, 127, 219];
    private static readonly double[] Labour = [26881, 4896, 3730, 556, 1463, 1946, 834, 932];
    private static readonly double[] CableWh = [13.18, 13.25, 13.21, 13.30, 13.16];
    private static readonly double[] PadWh = [19.65, 19.92, 19.80, 20.05, 19.71];
    private static readonly double[] YieldA = [452, 874, 554, 447, 356, 754, 558, 574, 664, 682, 547, 435, 245];
    private static readonly double[] YieldB = [546, 547, 774, 465, 459, 665, 467, 365, 589, 534, 456, 651, 654, 665, 546, 537];

    [Theory]
    [InlineData(0.90, 1.340489)]
    [InlineData(0.95, 2.088152)]
    public void Unbounded_pairs_are_no_interval(double coverage, double g)
    {
        var set = Assert.IsType<RatioSet.Exclusive>(Fieller.OfPairs(Unemployed, Labour, coverage));
        Assert.Equal(0.160289054, set.Ratio, 5e-10);
        Assert.Equal(g, set.G, 5e-7);
        Assert.True(set.Contains(set.Ratio));
        Assert.False(set.Contains(0.5 * (set.UpTo + set.From)));
    }

    [Fact]
    public void At_99_percent_the_set_is_the_whole_line() => Assert.IsType<RatioSet.WholeLine>(Fieller.OfPairs(Unemployed, Labour, 0.99));

    [Fact]
    public void Yield_data()
    {
        SampleStatistics a = SampleStatistics.Of(YieldA), b = SampleStatistics.Of(YieldB);
        var oneScatter = Assert.IsType<RatioSet.Bounded>(Fieller.OfSamplesWithOneScatter(a, b, 0.95));
        Assert.Equal(0.985443256, oneScatter.Ratio, 5e-10);
        Assert.Equal(0.812261, oneScatter.Low, 5e-7);
        Assert.Equal(1.190397, oneScatter.High, 5e-7);

        var twoScatters = Assert.IsType<RatioSet.Bounded>(Fieller.OfSamples(a, b, 0.95));
        Assert.Equal(0.793218, twoScatters.Low, 5e-7);
        Assert.Equal(1.196859, twoScatters.High, 5e-7);
        Assert.Equal(0.009643, twoScatters.G, 5e-7);
    }

    [Fact]
    public void Charging_data()
    {
        SampleStatistics pad = SampleStatistics.Of(PadWh), cable = SampleStatistics.Of(CableWh);
        var set = Assert.IsType<RatioSet.Bounded>(Fieller.OfSamples(pad, cable, 0.95));
        Assert.Equal(1.499697428, set.Ratio, 5e-10);
        Assert.Equal(1.484683, set.Low, 5e-7);
        Assert.Equal(1.514776, set.High, 5e-7);

        var difference = DifferenceOfMeans.Welch(pad, cable);
        Assert.Equal(6.606, difference.Difference, 5e-10);
        Assert.Equal(86.473, difference.T, 5e-4);
        Assert.Equal(4.954141, difference.DegreesOfFreedom, 5e-7);
        Assert.Equal(6.409076, difference.Interval(0.95).Low, 5e-7);
        Assert.Equal(6.802924, difference.Interval(0.95).High, 5e-7);
    }

    [Fact]
    public void The_limits_put_back_into_the_test_give_t()
    {
        SampleStatistics pad = SampleStatistics.Of(PadWh), cable = SampleStatistics.Of(CableWh);
        double ratio = pad.Mean / cable.Mean;
        double t = StudentDistribution.TwoSidedFactor(0.95, RatioTest.Against(pad, cable, ratio).DegreesOfFreedom);
        Assert.Equal(2.444237, t, 5e-7);

        var set = Assert.IsType<RatioSet.Bounded>(Fieller.OfSamples(pad, cable, 0.95));
        Assert.Equal(t, RatioTest.Against(pad, cable, set.Low).T, 1e-9);
        Assert.Equal(-t, RatioTest.Against(pad, cable, set.High).T, 1e-9);
    }

    [Fact]
    public void Non_inferiority_of_a_ratio()
    {
        // Form of Tamhane and Logan 2004; numbers worked out elsewhere from the charging data.
        SampleStatistics pad = SampleStatistics.Of(PadWh), cable = SampleStatistics.Of(CableWh);
        var below152 = RatioTest.Against(pad, cable, 1.52);
        Assert.Equal(-3.288477, below152.T, 5e-7);
        Assert.Equal(6.074559, below152.DegreesOfFreedom, 5e-7);
        Assert.Equal(0.008175, below152.PBelow, 5e-7);
        Assert.Equal(0.481194, RatioTest.Against(pad, cable, 1.50).PBelow, 5e-7);
    }
}
