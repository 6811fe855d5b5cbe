using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>
/// Runs that were made in blocks (days, set-ups, operators, places): the scatter within a block and between blocks, and how well the mean
/// over blocks is known. The mean is that of the blocks' means; its variance is that of the blocks' means divided by their number, which
/// holds both scatters in the right share, with the degrees of freedom of the blocks (by Satterthwaite where blocks of unlike size have
/// means of unlike variance); or that of the scatter within alone, with its own degrees of freedom, where that reaches further at 95 %:
/// blocks that agree by luck must not shorten the interval.
/// <i>Source:</i> one-way random effects by analysis of variance of unweighted means; F. E. Satterthwaite, Biometrics Bulletin 2 (1946)
/// 110–114 (both from memory); JCGM 100:2008, H.5 (analysis of variance of days).
/// </summary>
/// <param name="Mean">Mean of the blocks' means.</param>
/// <param name="Weights">Weight of each value in it.</param>
/// <param name="Blocks">How many blocks. [1]</param>
/// <param name="VarianceOfMean">Variance of the mean; not a number for a single value.</param>
/// <param name="DegreesOfFreedom">Of that variance. [1]</param>
/// <param name="VarianceWithin">Variance of a value within its block; null where every block has one value.</param>
/// <param name="VarianceBetween">Variance of a block's true mean; null for one block.</param>
public sealed record BlockScatter(
    double Mean,
    IReadOnlyList<double> Weights,
    int Blocks,
    double VarianceOfMean,
    double DegreesOfFreedom,
    double? VarianceWithin,
    double? VarianceBetween)
{
    private const double Coverage = 0.95;

    /// <summary>The scatter of values in blocks.</summary>
    /// <param name="values">The values, at least one.</param>
    /// <param name="blocks">The block of each.</param>
    /// <exception cref="ArgumentException">There is no value, or not a block for each.</exception>
    public static BlockScatter Of(IReadOnlyList<double> values, IReadOnlyList<string> blocks)
    {
        if (values.Count == 0 || values.Count != blocks.Count)
        {
            throw new ArgumentException("each of one or more values needs its block", nameof(blocks));
        }

        var groups = values.Zip(blocks).GroupBy(v => v.Second, v => v.First, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => (Count: g.Count(), Mean: g.Average(), Values: g.ToList()), StringComparer.Ordinal);
        int k = groups.Count, freedomWithin = values.Count - k;
        double mean = groups.Values.Average(g => g.Mean), perBlock = groups.Values.Average(g => 1.0 / g.Count);
        double? within = freedomWithin > 0
            ? groups.Values.Sum(g => g.Values.Sum(v => (v - g.Mean) * (v - g.Mean))) / freedomWithin
            : null;
        double[] weights = [.. blocks.Select(b => 1.0 / (k * groups[b].Count))];
        if (k == 1)
        {
            return new BlockScatter(mean, weights, 1, (within ?? double.NaN) / values.Count, values.Count - 1, within, null);
        }

        double ofMeans = groups.Values.Sum(g => (g.Mean - mean) * (g.Mean - mean)) / (k - 1);
        double between = Math.Max(0, ofMeans - ((within ?? 0) * perBlock));
        double freedom = Freedom([.. groups.Values.Select(g => between + ((within ?? 0) / g.Count))]);

        // Both reach far enough where blocks do not differ, and the first wherever they do: so the longer of the two always does.
        double alone = (within ?? 0) * perBlock;
        return alone > 0 && Reach(alone, freedomWithin) > Reach(ofMeans, freedom)
            ? new BlockScatter(mean, weights, k, alone / k, freedomWithin, within, between)
            : new BlockScatter(mean, weights, k, ofMeans / k, freedom, within, between);
    }

    private static double Reach(double variance, double freedom) =>
        StudentDistribution.TwoSidedFactor(Coverage, freedom) * Math.Sqrt(variance);

    // Of the scatter of means whose variances are unlike: twice the square of its expectation divided by its variance.
    private static double Freedom(double[] variances)
    {
        int k = variances.Length;
        double average = variances.Average(), squares = variances.Sum(v => v * v);
        return average == 0 ? k - 1
            : (k - 1) * (k - 1) * average * average / (((1 - (2.0 / k)) * squares) + (average * average));
    }
}
