using ChargeAudit.Measuring.Integration;
using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring;

/// <summary>
/// How much an energy owes to chance: the scatter of readings about the smooth course of the load, with whatever memory that scatter has.
/// Means over blocks of 1 to 64 cells are compared with the line between their neighbours; white noise gives the same answer at every block length, noise with a
/// memory gives more at longer blocks, and the largest answer is taken. Load changes that reach over many blocks do not enter.
/// </summary>
/// <remarks>
/// For independent block means with standard deviation s, the second difference has standard deviation s·√6, and the mean over n blocks s/√n.
/// In short blocks the hundredth part of largest differences is left out: those are the load's own steps. Long blocks are few, and a step touches a larger part of them,
/// so there the median of the differences stands for their spread. <i>Source:</i> D. W. Allan, Proceedings of the IEEE 54 (1966) 221–230, for
/// variances by block length; J. von Neumann et al., Annals of Mathematical Statistics 12 (1941) 153–162, for successive differences.
/// </remarks>
public static class NoiseEstimate
{
    private const int LeastBlocks = 12;
    private const double LeftOutShare = 0.01;
    private const int LongestShortBlock = 16;

    // Standard deviation by median absolute deviation, for a normal distribution.
    private const double DeviationByMedian = 1.4826;
    private static readonly int[] BlockLengths = [1, 2, 4, 8, 16, 32, 64];

    /// <summary>Standard uncertainty that scatter brings to the mean power between two times; zero where there are too few cells to tell. [W]</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static double OfMeanPowerW(PowerEnvelope envelope, double fromS, double toS)
    {
        var powers = Cells(envelope, fromS, toS);
        double largest = 0;
        foreach (int length in BlockLengths)
        {
            int blocks = powers.Count / length;
            if (blocks < LeastBlocks)
            {
                break;
            }

            double deviation = BlockDeviation(powers, length, blocks);
            largest = Math.Max(largest, deviation / Math.Sqrt(blocks));
        }

        return largest;
    }

    private static List<double> Cells(PowerEnvelope envelope, double fromS, double toS)
    {
        var powers = new List<double>((int)Math.Clamp((toS - fromS) / envelope.BucketWidthS, 0, envelope.Count));
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (envelope.StartS(i) >= fromS && envelope.StartS(i + 1) <= toS && cell.Readings > 0 && cell.CoveredS.Value > 0 && cell.BridgedS.Value == 0)
            {
                powers.Add(cell.MeanPowerW);
            }
        }

        return powers;
    }

    private static double BlockDeviation(List<double> powers, int length, int blocks)
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

        var squares = new double[blocks - 2];
        for (int b = 1; b < blocks - 1; b++)
        {
            double difference = means[b - 1] - (2 * means[b]) + means[b + 1];
            squares[b - 1] = difference * difference;
        }

        // Which differences are the smallest is all that matters, not their order: finding the limit takes a fraction of the time that sorting does.
        if (length > LongestShortBlock)
        {
            return DeviationByMedian * Math.Sqrt(ArrayStatistics.OrderStatisticInplace(squares, (squares.Length / 2) + 1) / 6);
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
}
