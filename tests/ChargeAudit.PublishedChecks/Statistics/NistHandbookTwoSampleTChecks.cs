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
    public void Equal_variances()
    {
        var pooled = DifferenceOfMeans.Pooled(First, Second);
        Assert.Equal(-12.62059, pooled.T, 5e-6);
        Assert.Equal(326, pooled.DegreesOfFreedom);
        Assert.Equal(1.967268, StudentDistribution.TwoSidedFactor(0.95, 326), 5e-7);
    }

    [Fact]
    public void Unequal_variances()
    {
        // Printed values from memory; recomputed elsewhere as −12.946273275 and 136.874977.
        var welch = DifferenceOfMeans.Welch(First, Second);
        Assert.Equal(-12.94627, welch.T, 5e-6);
        Assert.Equal(136.8750, welch.DegreesOfFreedom, 5e-5);
    }
}
