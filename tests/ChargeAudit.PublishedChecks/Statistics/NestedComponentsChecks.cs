using ChargeAudit.Metrology.Repeats;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Nested variance components: the yields of a dyestuff in grams from six batches of five samples (O. L. Davies and P. L. Goldsmith,
/// Statistical Methods in Research and Production, 4th ed. 1972, as distributed with R's package lme4). Expected values were made once with
/// R 4.2.2 and lme4 1.1-31: <c>aov(Yield ~ Batch)</c> and <c>lmer(Yield ~ 1 | Batch)</c>, and for blocks of unlike size
/// <c>lm(Yield ~ 1)</c> on the batches' means.
/// </summary>
public class NestedComponentsChecks
{
    private static readonly double[][] Dyestuff =
    [
        [1545, 1440, 1440, 1520, 1580], [1540, 1555, 1490, 1560, 1495], [1595, 1550, 1605, 1510, 1560],
        [1445, 1440, 1595, 1465, 1545], [1595, 1630, 1515, 1635, 1625], [1520, 1455, 1450, 1480, 1445],
    ];

    private static readonly double[][] SecondDyestuff =
    [
        [7.298, 3.846, 2.434, 9.566, 7.990], [5.220, 6.556, 0.608, 11.788, -0.892], [0.110, 10.386, 13.434, 5.510, 8.166],
        [2.212, 4.852, 7.092, 9.288, 4.980], [0.282, 9.014, 4.458, 9.446, 7.198], [1.722, 4.782, 8.106, 0.758, 3.758],
    ];

    // lmer (which iterates to some eight digits): residual variance 2451.25, batch variance 1764.05, intercept 1527.5 with standard error
    // 19.3834.
    [Fact]
    public void Balanced_components_are_those_of_restricted_likelihood()
    {
        var scatter = Of(Dyestuff);
        Assert.Equal(2451.25, scatter.VarianceWithin!.Value, 1e-6);
        Assert.Equal(1764.05, scatter.VarianceBetween!.Value, 1e-6);
        Assert.Equal(1527.5, scatter.Mean, 1e-9);
        Assert.Equal(19.3834121788, Math.Sqrt(scatter.VarianceOfMean), 1e-6);
        Assert.Equal(6, scatter.Blocks);
        Assert.Equal(5, scatter.DegreesOfFreedom, 1e-9);
    }

    // aov: mean squares 8.33632576 between and 14.94588960 within. The batches agree better than the scatter of
    // their samples would explain, so nothing is between them, and the mean is not known better than the samples allow: √(14.9458896/30).
    [Fact]
    public void Batches_that_agree_too_well_have_no_component_of_their_own()
    {
        var scatter = Of(SecondDyestuff);
        Assert.Equal(0, scatter.VarianceBetween);
        Assert.Equal(14.94588960, scatter.VarianceWithin!.Value, 1e-7);
        Assert.Equal(Math.Sqrt(14.94588960 / 30), Math.Sqrt(scatter.VarianceOfMean), 1e-8);
    }

    // The first 5, 4, 3, 2, 5 and 3 samples. aov: mean square within 2109.244792 with 16 degrees of freedom; lm on the means: 1523.68055556
    // with standard error 25.0666742083; mean of 1/n 0.302777778, so between 3770.02893519 − 0.302777778 · 2109.244792.
    [Fact]
    public void Unbalanced_means_count_alike()
    {
        int[] sizes = [5, 4, 3, 2, 5, 3];
        var scatter = Of([.. Dyestuff.Zip(sizes, (batch, n) => batch[..n])]);
        Assert.Equal(1523.68055556, scatter.Mean, 1e-7);
        Assert.Equal(25.0666742083, Math.Sqrt(scatter.VarianceOfMean), 1e-8);
        Assert.Equal(2109.244792, scatter.VarianceWithin!.Value, 1e-5);
        Assert.Equal(3770.02893519 - (0.302777778 * 2109.244792), scatter.VarianceBetween!.Value, 1e-4);
        Assert.InRange(scatter.DegreesOfFreedom, 4.5, 5);
    }

    private static BlockScatter Of(double[][] batches) => BlockScatter.Of(
        [.. batches.SelectMany(b => b)], [.. batches.SelectMany((b, i) => b.Select(_ => "ABCDEF"[i].ToString()))]);
}
