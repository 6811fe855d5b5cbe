using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring;

/// <summary>
/// How much an energy owes to chance: the scatter of readings about the smooth course of the load, with whatever memory that scatter has.
/// Means over blocks of readings are compared with the line between their neighbours; white noise gives the same answer at every block
/// length, noise with a memory gives more at longer blocks, and the largest answer is taken. Load changes that reach over many blocks do
/// not enter.
/// <para>Blocks span a minute at most: what goes to and fro more slowly is the load's own course, which slow rows would otherwise show as
/// noise. A mean over a window holds all that flowed in it, so there the scatter from window to window is the load's for the most part;
/// only what changes from each to the next like the noise of a meter counts, by the median of third differences, which neither a course nor
/// single pulses reach.</para>
/// </summary>
/// <remarks>
/// For independent block means with standard deviation s, the second difference has standard deviation s·√6, the third s·√20, and the mean
/// over n blocks s/√n. In short blocks the hundredth part of largest differences is left out: those are the load's own steps. Where blocks
/// are few or long, a step touches a larger part of them, so there the median of the differences stands for their spread. <i>Source:</i> D.
/// W. Allan, Proceedings of the IEEE 54 (1966) 221–230, for variances by block length; J. von Neumann et al., Annals of Mathematical
/// Statistics 12 (1941) 153–162, for successive differences.
/// </remarks>
internal static class NoiseEstimate
{
    private const int LeastBlocks = 12;
    private const double LeftOutShare = 0.01;
    private const int LongestShortBlock = 16;
    private const int ManyDifferences = 1000;
    private const double LongestSpanS = 64;
    private const double LongestSpanOfMeansS = 4;

    // Standard deviation by median absolute deviation, for a normal distribution.
    private const double DeviationByMedian = 1.4826;

    private static readonly int[] BlockLengths = [1, 2, 4, 8, 16, 32, 64];

    /// <summary>Standard uncertainty that scatter brings to the mean power between two times; zero where there are too few cells to tell.
    /// [W]</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="samples">What a reading stands for.</param>
    public static double OfMeanPowerW(PowerEnvelope envelope, double fromS, double toS, SampleKind samples = SampleKind.Instantaneous)
    {
        var readings = ReadingSeries.Of(envelope, fromS, toS);
        var powers = readings.Runs.Count == 1 ? readings.Runs[0] : [.. readings.Runs.SelectMany(r => r)];
        bool means = samples is SampleKind.AverageEnding or SampleKind.AverageStarting;
        double span = means ? LongestSpanOfMeansS : LongestSpanS;
        double largest = 0;
        foreach (int length in BlockLengths)
        {
            int blocks = powers.Count / length;
            if (blocks < LeastBlocks || (length > 1 && length * readings.SpacingS > 1.001 * span))
            {
                break;
            }

            double[] block = BlockMeans(powers, length, blocks);
            double deviation = means ? ByThirdDifferences(block) : BySecondDifferences(block, length);
            largest = Math.Max(largest, deviation / Math.Sqrt(blocks));
        }

        return largest;
    }

    private static double[] BlockMeans(List<double> powers, int length, int blocks)
    {
        var means = new double[blocks];
        for (int b = 0; b < blocks; b++)
        {
            double sum = 0;
            for (int i = 0; i < length; i++)
            {
                sum += powers[(b * length) + i];
            }

            means[b] = sum / length;
        }

        return means;
    }

    private static double ByThirdDifferences(double[] means)
    {
        var squares = new double[means.Length - 3];
        for (int b = 0; b < squares.Length; b++)
        {
            double difference = means[b + 3] - means[b] - (3 * (means[b + 2] - means[b + 1]));
            squares[b] = difference * difference;
        }

        return DeviationByMedian * Math.Sqrt(Median(squares) / 20);
    }

    private static double BySecondDifferences(double[] means, int length)
    {
        var squares = new double[means.Length - 2];
        for (int b = 0; b < squares.Length; b++)
        {
            double difference = means[b] - (2 * means[b + 1]) + means[b + 2];
            squares[b] = difference * difference;
        }

        if (length > LongestShortBlock || squares.Length < ManyDifferences)
        {
            return DeviationByMedian * Math.Sqrt(Median(squares) / 6);
        }

        int kept = squares.Length - (int)(LeftOutShare * squares.Length);
        double limit = ArrayStatistics.OrderStatisticInplace(squares, kept);
        double total = 0;
        int below = 0;
        foreach (double square in squares)
        {
            if (square < limit)
            {
                total += square;
                below++;
            }
        }

        return Math.Sqrt((total + ((kept - below) * limit)) / kept / 6);
    }

    // Which differences are the smallest is all that matters, not their order: finding the middle takes a fraction of the time that sorting
    // does.
    private static double Median(double[] squares) => ArrayStatistics.OrderStatisticInplace(squares, (squares.Length + 1) / 2);
}
