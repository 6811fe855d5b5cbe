using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring;

/// <summary>
/// What a border within a mean moves. A mean holds all that flowed in its window, so it does not matter when in it power stepped: what lies
/// above the level of the lower side in the rows around the border flowed on the higher side. Only how well that level is known matters,
/// and of a misplaced border only the lower power. Pure functions.
/// </summary>
/// <param name="MovedJ">Energy that belongs to the mode after the border, though it lies before; negative for the other way round.
/// [J]</param>
/// <param name="ScatterJ">Standard uncertainty of that by the scatter of the lower level. [J]</param>
/// <param name="IntervalS">Usual interval between rows. [s]</param>
internal readonly record struct MeanBorder(double MovedJ, double ScatterJ, double IntervalS)
{
    /// <summary>The lower level is taken over so many rows. [1]</summary>
    private const int LevelRows = 4;

    /// <summary>The interval between rows is known from the log, to within this share where some were lost. [1]</summary>
    private const double Slack = 1.15;

    /// <summary>Where in an interval a step lies: standard deviation. [s]</summary>
    public double WithinRowS => Slack * IntervalS / Math.Sqrt(12);

    /// <summary>For a border; null where it is less sure than the row it lies in, or too little was logged beside it.</summary>
    /// <param name="envelope">Power over time, from means.</param>
    /// <param name="borderS">The border. [s]</param>
    /// <param name="uncertaintyS">Its standard uncertainty. [s]</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    public static MeanBorder? At(PowerEnvelope envelope, double borderS, double uncertaintyS, double intervalS)
    {
        // The row that holds the border reaches back for an interval, and cells blend its edge with the row beside it.
        double reachS = intervalS + envelope.BucketWidthS;
        if (!(uncertaintyS > 0) || uncertaintyS > reachS || Level(envelope, borderS, reachS, intervalS, -1) is not { } before
            || Level(envelope, borderS, reachS, intervalS, 1) is not { } after)
        {
            return null;
        }

        bool rises = Math.Abs(after.MeanW) > Math.Abs(before.MeanW);
        var (lowW, scatterW) = rises ? before : after;
        var (fromS, toS) = rises ? (borderS - reachS, borderS) : (borderS, borderS + reachS);
        double above = envelope.EnergyBetweenJ(fromS, toS) - (lowW * reachS);
        return new MeanBorder(rises ? above : -above, scatterW * reachS, intervalS);
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
