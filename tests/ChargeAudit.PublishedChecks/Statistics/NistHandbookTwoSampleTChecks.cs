using ChargeAudit.Checking;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3 Two-Sample t-Test for Equal Means, data AUTO83B (read in NIST
/// Dataplot).</summary>
public sealed class NistHandbookTwoSampleTChecks
{
    private static readonly SampleStatistics First = SampleStatistics.Of(Auto83BData.First);
    private static readonly SampleStatistics Second = SampleStatistics.Of(Auto83BData.Second);

    [Fact]
    public void Sample_figures()
    {
        Assert.Equal(20.14458, First.Mean, 5e-6);
        Assert.Equal(30.48101, Second.Mean, 5e-6);
        Assert.Equal(6.41470, First.StandardDeviation, 5e-6);
        Assert.Equal(6.10771, Second.StandardDeviation, 5e-6);
    }

    [Fact]
    public void Factor_of_equal_variances() => Assert.Equal(1.967268, StudentDistribution.TwoSidedFactor(0.95, 326), 5e-7);

    [Fact]
    public void Unequal_variances()
    {
        // With a margin of zero, the test of a ratio is that of two means. Printed values from memory; recomputed elsewhere as
        // −12.946273275 and 136.874977.
        var welch = MarginTest.Against(Scatter.Mean(First, "a"), Scatter.Mean(Second, "b"), 1, 0.05);
        Assert.Equal(-12.94627, welch.T, 5e-6);
        Assert.Equal(136.8750, welch.DegreesOfFreedom, 5e-5);
    }
}
