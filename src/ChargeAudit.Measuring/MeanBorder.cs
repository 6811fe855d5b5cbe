using ChargeAudit.Measuring.Integration;
using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring;

/// <summary>
/// What a border between two readings moves, where power stepped there. A mean holds all that flowed in its window, so it does not matter
/// when in it power stepped: what lies above the level of the lower side in the rows around the border flowed on the higher side. Between
/// two instantaneous readings a log runs in a straight line, and what lies above the lower level under that line is what is to be expected
/// of the higher side, wherever the step was. Pure functions.
/// </summary>
/// <param name="MovedJ">Energy that belongs to the mode after the border, though it lies before; negative for the other way round.
/// [J]</param>
/// <param name="ScatterJ">Standard uncertainty of that by the scatter of the lower level. [J]</param>
/// <param name="LowW">Level of the lower side, beyond the rows that the border touches. [W]</param>
/// <param name="HighW">Level of the higher side, likewise. [W]</param>
/// <param name="IntervalS">Usual interval between rows. [s]</param>
/// <param name="IsMean">Whether the readings are means.</param>
internal readonly record struct MeanBorder(double MovedJ, double ScatterJ, double LowW, double HighW, double IntervalS, bool IsMean)
{
    /// <summary>The lower level is taken over this many rows. [1]</summary>
    private const int LevelRows = 4;

    /// <summary>The interval between rows is known from the log, to within this share where some were lost. [1]</summary>
    private const double Slack = 1.15;

    /// <summary>A sudden step lies anywhere between two rows; a border whose uncertainty is that of such a step, to within this share, was
    /// found as one. [1]</summary>
    private const double AsSudden = 0.03;

    /// <summary>The effect of one of the border's errors on the energy of the mode before it: a step between two instantaneous readings may
    /// lie anywhere between them; one in a mean is told by its height, and only an error beyond its window counts. [J]</summary>
    /// <param name="uncertaintyS">Standard uncertainty of the border by that error. [s]</param>
    /// <param name="lessW">Taken off the power. [W]</param>
    public double EnergyJ(double uncertaintyS, double lessW)
    {
        if (!IsMean)
        {
            return (HighW - lessW) * uncertaintyS;
        }

        double withinS = Math.Min(uncertaintyS, Slack * IntervalS / Math.Sqrt(12));
        double beyondS = Math.Sqrt((uncertaintyS * uncertaintyS) - (withinS * withinS));
        double lowJ = (LowW - lessW) * withinS, highJ = (HighW - lessW) * beyondS;
        return Math.CopySign(Math.Sqrt((lowJ * lowJ) + (highJ * highJ)), Math.Abs(lowJ) > Math.Abs(highJ) ? lowJ : highJ);
    }

    /// <summary>For a border; null where it is less certain than the row it lies in, or too little was logged beside it.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="borderS">The border. [s]</param>
    /// <param name="uncertaintyS">Its standard uncertainty. [s]</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    /// <param name="isMean">Whether a reading is the mean of a window; else it is instantaneous.</param>
    public static MeanBorder? At(PowerEnvelope envelope, double borderS, double uncertaintyS, double intervalS, bool isMean = true)
    {
        double suddenS = Math.Max(intervalS, envelope.BucketWidthS) / Math.Sqrt(12);
        if (!isMean && !(Math.Abs(uncertaintyS - suddenS) <= AsSudden * suddenS))
        {
            return null;
        }

        // The row that holds the border reaches back for an interval, and cells blend its edge with the row beside it.
        double reachS = intervalS + envelope.BucketWidthS;
        if (!(uncertaintyS > 0) || uncertaintyS > reachS || Level(envelope, borderS, reachS, intervalS, -1) is not { } before
            || Level(envelope, borderS, reachS, intervalS, 1) is not { } after)
        {
            return null;
        }

        bool rises = Math.Abs(after.MeanW) > Math.Abs(before.MeanW);
        var (lowW, scatterW) = rises ? before : after;
        double highW = rises ? after.MeanW : before.MeanW;
        var (fromS, toS) = rises ? (borderS - reachS, borderS) : (borderS, borderS + reachS);
        double above = envelope.EnergyBetweenJ(fromS, toS) - (lowW * reachS);
        return new MeanBorder(rises ? above : -above, scatterW * reachS, lowW, highW, intervalS, isMean);
    }

    /// <summary>For a start of charging between two readings of a counter, whose rows are means with sharp edges; null where power does not
    /// rise there, or fewer than two rows show the level before or after.</summary>
    /// <param name="envelope">Power over time, from the counter alone.</param>
    /// <param name="counted">Readings with advances added up. [s, J]</param>
    /// <param name="borderS">The border. [s]</param>
    /// <param name="uncertaintyS">Its standard uncertainty. [s]</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    public static MeanBorder? AtRise(PowerEnvelope envelope, IReadOnlyList<(double TimeS, double EnergyJ)> counted, double borderS,
        double uncertaintyS, double intervalS)
    {
        int row = FirstAt(counted, borderS);
        if (!(uncertaintyS > 0) || uncertaintyS > intervalS || row < 1 || row == counted.Count
            || RowLevel(counted, row - 1, -1) is not { } before || RowLevel(counted, row, 1) is not { } after
            || !(after.MeanW > before.MeanW))
        {
            return null;
        }

        // The energy that a step counts flowed since the step before.
        int step = row - 1;
        while (step > 0 && counted[step].EnergyJ == counted[step - 1].EnergyJ)
        {
            step--;
        }

        double fromS = Math.Max(envelope.CoveredFromS, counted[step].TimeS - envelope.BucketWidthS);
        double movedJ = envelope.EnergyBetweenJ(fromS, borderS) - (before.MeanW * (borderS - fromS));
        return new MeanBorder(movedJ, before.ScatterW * (borderS - fromS), before.MeanW, after.MeanW, intervalS, true);
    }

    private static int FirstAt(IReadOnlyList<(double TimeS, double EnergyJ)> counted, double timeS)
    {
        int low = 0, high = counted.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = counted[middle].TimeS < timeS ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    // Mean of the rows on one side of a reading, and the scatter of one row.
    private static (double MeanW, double ScatterW)? RowLevel(IReadOnlyList<(double TimeS, double EnergyJ)> counted, int reading, int sign)
    {
        var powersW = new List<double>(LevelRows);
        for (int i = reading; powersW.Count < LevelRows && i + sign >= 0 && i + sign < counted.Count; i += sign)
        {
            // Rows of one time have no power.
            double lengthS = counted[i + sign].TimeS - counted[i].TimeS;
            if (lengthS != 0)
            {
                powersW.Add((counted[i + sign].EnergyJ - counted[i].EnergyJ) / lengthS);
            }
        }

        return powersW.Count < 2 ? null : (powersW.Average(), powersW.StandardDeviation());
    }

    // Mean over the rows beyond the reach, and the scatter of one row.
    private static (double MeanW, double ScatterW)? Level(PowerEnvelope envelope, double borderS, double reachS, double intervalS, int sign)
    {
        double sum = 0, squares = 0;
        int rows = 0;
        for (; rows < LevelRows; rows++)
        {
            double nearS = borderS + (sign * (reachS + (rows * intervalS)));
            double farS = nearS + (sign * intervalS);
            var (fromS, toS) = sign > 0 ? (nearS, farS) : (farS, nearS);
            if (envelope.CoveredBetweenS(fromS, toS) - envelope.BridgedBetweenS(fromS, toS) < 0.99 * intervalS)
            {
                break;
            }

            double meanW = envelope.EnergyBetweenJ(fromS, toS) / intervalS;
            sum += meanW;
            squares += meanW * meanW;
        }

        return rows < 2 ? null : (sum / rows, Math.Sqrt(Math.Max(0, squares - (sum * sum / rows)) / (rows - 1)));
    }
}
