using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Standby;

/// <summary>
/// How well a mean is known from readings that are correlated, as those of a load that wanders: by the scatter of the means of eight blocks
/// in turn, overlapping, so that what neighbours share is not taken for knowledge. Where even the blocks are correlated, what they share is
/// allowed for as in a series with a memory of one block.
/// </summary>
/// <remarks>
/// <i>Source:</i> H. R. Künsch, Annals of Statistics 17 (1989) 1217–1241 (moving blocks); G. V. Bayley, J. M. Hammersley, Supplement to the
/// Journal of the Royal Statistical Society 8 (1946) 184–197 (effective number of observations); both from memory. The number of blocks is
/// our own choice.
/// </remarks>
internal static class MeanScatter
{
    /// <summary>Blocks that a series is cut into.</summary>
    private const int Blocks = 8;

    /// <summary>So few blocks cannot show that they are more alike than this. [1]</summary>
    private const double MostLikeness = 0.8;

    /// <summary>Fewest independent readings that show a scatter.</summary>
    public const int LeastReadings = 3;

    /// <summary>Standard uncertainty of the mean with its degrees of freedom; null where there are fewer than <see cref="LeastReadings"/>
    /// independent readings.</summary>
    /// <param name="values">Equally spaced values, in order.</param>
    /// <param name="independent">How many of them are readings of their own: cells narrower than the interval between rows are not.</param>
    /// <param name="leastBlock">Fewest values in a block, such as those of a cycle.</param>
    public static (double StandardUncertainty, double DegreesOfFreedom)? Of(ReadOnlySpan<double> values, long independent,
        int leastBlock = 1)
    {
        int n = values.Length;
        double own = Math.Min(n, independent);
        if (own < LeastReadings)
        {
            return null;
        }

        double repeated = n / own;
        if (own < 2 * Blocks)
        {
            double deviation = SampleStatistics.Of(values).StandardDeviation;
            return (deviation * Math.Sqrt(repeated / n), own - 1);
        }

        int block = Math.Clamp(Math.Max(n / Blocks, leastBlock), 1, n / 3);
        double error = Autocorrelation.MovingBlockStandardError(values, block);
        double likeness = Math.Clamp(Likeness(values, block), 0, MostLikeness);
        return (error * Math.Sqrt((1 + likeness) / (1 - likeness)), Math.Max(1, Math.Min(Blocks, n / block) - 1));
    }

    // Correlation of neighbouring block means. With so few blocks it comes out too low by 1/count on average, which is added.
    private static double Likeness(ReadOnlySpan<double> values, int block)
    {
        int count = values.Length / block;
        var means = new double[count];
        for (int b = 0; b < count; b++)
        {
            means[b] = SampleStatistics.Of(values.Slice(b * block, block)).Mean;
        }

        double mean = means.Average();
        double square = means.Sum(m => (m - mean) * (m - mean));
        double cross = Enumerable.Range(1, count - 1).Sum(b => (means[b] - mean) * (means[b - 1] - mean));
        return square > 0 ? (cross / square) + (1.0 / count) : 0;
    }
}
