namespace ChargeAudit.Measuring.Segmentation;

/// <summary>The last stair of a fall, which might be the full device.</summary>
/// <param name="StartS">Its start. [s]</param>
/// <param name="EndS">Its end. [s]</param>
internal readonly record struct LastStair(double StartS, double EndS);

/// <summary>
/// Follows a fall in stairs down to its last one: a charger that lowers its current by equal steps stands on each for longer than on the
/// one before, and a flat stair of minutes is no full device as long as power goes on down by steps of the same size. Pure.
/// <i>Common practice, no source.</i>
/// </summary>
internal sealed class StairFall(IReadOnlyList<PowerSegment> segments, PowerLevels levels, double zeroW)
{
    /// <summary>Steps of one staircase are alike within this share of their mean, and there are so many of them. [1]</summary>
    private const double AlikeShare = 0.15;
    private const int LeastSteps = 3;

    /// <summary>Pieces within this share of their level, or this multiple of the noise, are one level. [1]</summary>
    private const double SameLevelShare = 0.02;
    private const double SameByNoise = 3;

    /// <summary>A piece shorter than this share of both its neighbours is where one level passes into the next. [1]</summary>
    private const double PassingShare = 0.1;

    /// <summary>What comes after the last stair is another level than the waiting charger's where it stands clear of it by this share.
    /// [1]</summary>
    private const double OtherThanWaiting = 0.25;

    /// <summary>A stair lasts no longer than this multiple of the one before: where the fall is that of a battery, the last but one by
    /// twice, and the last as long as the charger lets it. [1]</summary>
    private const double MostLonger = 6;

    private readonly record struct Level(int From, int To, double PowerW, double DurationS);

    /// <summary>The piece at which the charge ends, and the last stair where it may be the full device; the given piece where power does
    /// not fall in stairs beyond it.</summary>
    /// <param name="pieces">Base of the charge and of what follows it.</param>
    /// <param name="last">Last piece of the charge as far as its fall is found.</param>
    /// <param name="waitingW">What the charger draws alone, as known or as the log shows it before the charge; null for neither.
    /// [W]</param>
    public (int Last, LastStair? Open) LastOf(List<BasePiece> pieces, int last, double? waitingW)
    {
        var stairs = Levels(pieces);
        int at = stairs.FindIndex(s => last < s.To);
        int lowest = at;
        while (lowest + 1 < stairs.Count && IsStep(stairs, lowest + 1, at) && IsOther(stairs[lowest + 1].PowerW, waitingW ?? zeroW))
        {
            lowest++;
        }

        // A full device's level is followed by nothing, or by the waiting charger.
        if (lowest > at && (lowest + 1 == stairs.Count || !IsLeft(stairs, lowest, waitingW ?? zeroW)))
        {
            lowest--;
        }

        if (lowest <= at)
        {
            return (last, null);
        }

        var (from, to, _, _) = stairs[lowest];
        var open = new LastStair(segments[pieces[from].From].StartS, segments[pieces[to - 1].To - 1].EndS);
        bool goesOn = lowest + 2 < stairs.Count && IsStep(stairs, lowest + 1, at);
        return (to - 1, waitingW is null && !goesOn ? open : null);
    }

    // Whether power steps down to a level as it did before, at least so often in a row.
    private bool IsStep(List<Level> stairs, int index, int border)
    {
        int first = Math.Max(1, index - LeastSteps + 1);
        if (index - first + 1 < LeastSteps || index <= border)
        {
            return false;
        }

        var downW = Enumerable.Range(first, LeastSteps).Select(i => stairs[i - 1].PowerW - stairs[i].PowerW).ToList();
        double meanW = downW.Average();
        return meanW > SameByNoise * levels.NoiseW && downW.TrueForAll(d => Math.Abs(d - meanW) <= AlikeShare * meanW);
    }

    private static bool IsLeft(List<Level> stairs, int index, double waitingW) =>
        stairs[index + 1].PowerW < stairs[index].PowerW && IsOther(stairs[index + 1].PowerW, waitingW)
            && stairs[index].DurationS <= MostLonger * stairs[index - 1].DurationS;

    private static bool IsOther(double powerW, double waitingW) => powerW > waitingW + (OtherThanWaiting * Math.Max(0, waitingW));

    private List<Level> Levels(List<BasePiece> pieces)
    {
        var found = new List<Level>();
        for (int p = 0; p < pieces.Count; p++)
        {
            var core = segments[pieces[p].Core];
            double lengthS = LengthS(pieces[p]);
            bool passing = p > 0 && p + 1 < pieces.Count && lengthS < PassingShare * LengthS(pieces[p - 1])
                && lengthS < PassingShare * LengthS(pieces[p + 1]);
            if (found.Count > 0 && (passing || IsSame(found[^1].PowerW, core.MeanW)))
            {
                var (from, _, powerW, durationS) = found[^1];
                double weight = passing ? 0 : lengthS;
                double meanW = ((powerW * durationS) + (core.MeanW * weight)) / (durationS + weight);
                found[^1] = new Level(from, p + 1, meanW, durationS + weight);
            }
            else
            {
                found.Add(new Level(p, p + 1, core.MeanW, lengthS));
            }
        }

        return found;
    }

    private bool IsSame(double firstW, double secondW) =>
        Math.Abs(firstW - secondW) <= Math.Max(SameLevelShare * Math.Abs(firstW), SameByNoise * levels.NoiseW);

    private double LengthS(in BasePiece piece) => segments[piece.To - 1].EndS - segments[piece.From].StartS;
}
