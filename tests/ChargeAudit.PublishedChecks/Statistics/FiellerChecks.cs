using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Ratio of means. Unbounded case: data of NIST Dataplot, RATIO OF MEANS CONFIDENCE INTERVAL (from Lehtonen and Pahkinen 2004). No
/// published bounded case with numbers is known; the bounded ones are the closed form worked out elsewhere (Python, double precision),
/// with a property that needs no reference.
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
        var set = Assert.IsType<RatioSet.Exclusive>(OfPairs(coverage));
        Assert.Equal(0.160289054, set.Ratio, 5e-10);
        Assert.Equal(g, set.G, 5e-7);
        Assert.True(set.Ratio <= set.UpTo || set.Ratio >= set.From);
        Assert.True(set.UpTo < set.From);
    }

    [Fact]
    public void At_99_percent_the_set_is_the_whole_line() => Assert.IsType<RatioSet.WholeLine>(OfPairs(0.99));

    [Fact]
    public void Yield_data()
    {
        SampleStatistics a = SampleStatistics.Of(YieldA), b = SampleStatistics.Of(YieldB);
        double dof = a.DegreesOfFreedom + b.DegreesOfFreedom,
            pooled = ((a.DegreesOfFreedom * a.Variance) + (b.DegreesOfFreedom * b.Variance)) / dof;
        var oneScatter = Assert.IsType<RatioSet.Bounded>(
            Fieller.Of(a.Mean, pooled / a.Count, b.Mean, pooled / b.Count, 0, StudentDistribution.TwoSidedFactor(0.95, dof)));
        Assert.Equal(0.985443256, oneScatter.Ratio, 5e-10);
        Assert.Equal(0.812261, oneScatter.Low, 5e-7);
        Assert.Equal(1.190397, oneScatter.High, 5e-7);

        var twoScatters = Assert.IsType<RatioSet.Bounded>(RatioOfMeans.Compare(Scatter.Mean(a, "a"), Scatter.Mean(b, "b")).Set);
        Assert.Equal(0.793218, twoScatters.Low, 5e-7);
        Assert.Equal(1.196859, twoScatters.High, 5e-7);
        Assert.Equal(0.009643, twoScatters.G, 5e-7);
    }

    [Fact]
    public void Charging_data()
    {
        var comparison = RatioOfMeans.Compare(Scatter.Mean(PadWh, "pad"), Scatter.Mean(CableWh, "cable"));
        Assert.Equal(1.499697428, comparison.Ratio.Value, 5e-10);
        Assert.Equal(1.484683, comparison.Ratio.Interval()!.Value.Low, 5e-7);
        Assert.Equal(1.514776, comparison.Ratio.Interval()!.Value.High, 5e-7);
    }

    private static RatioSet OfPairs(double coverage)
    {
        SampleStatistics a = SampleStatistics.Of(Unemployed), b = SampleStatistics.Of(Labour);
        double covariance = Unemployed.Zip(Labour, (x, y) => (x - a.Mean) * (y - b.Mean)).Sum() / (a.Count - 1) / a.Count;
        return Fieller.Of(a.Mean, a.VarianceOfMean, b.Mean, b.VarianceOfMean, covariance,
            StudentDistribution.TwoSidedFactor(coverage, a.Count - 1));
    }
}
