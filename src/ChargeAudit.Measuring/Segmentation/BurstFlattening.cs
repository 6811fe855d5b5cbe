namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A piece of the base of a stretch.</summary>
/// <param name="Core">The segment that shows the base.</param>
/// <param name="From">First segment of the piece's time, bursts included.</param>
/// <param name="To">Segment after its last.</param>
internal readonly record struct BasePiece(int Core, int From, int To);

/// <summary>
/// The base of a stretch: what is drawn with the short rises left out that a device's own load or a top-up puts on it. The time of such a
/// rise belongs to the higher of its two neighbours, so that falls and steps keep their place: an opening by area in one dimension, with
/// time for area. Common practice in image analysis, no source.
/// </summary>
internal static class BurstFlattening
{
    /// <summary>The line of so few cells says little about its ends, unless it falls or rises by this multiple of its error. [1]</summary>
    public const int ShortCells = 6;
    private const double PlainError = 10;

    /// <summary>
    /// Power is back at the charge's level above the first share of it, and was throttled where it had kept above the second; top-ups are
    /// shorter beside the time between them than the third. [1]
    /// </summary>
    private const double BackShare = 0.85;
    private const double ThrottledShare = 0.35;
    private const double LongShare = 0.5;

    /// <summary>A piece on the way, with the energy of the peaks that have sunk into it: a tall peak sinks in layers, and none of them may
    /// hide the whole.</summary>
    private readonly record struct Group(int Core, int From, int To, double DurationS, double SunkJ);

    /// <summary>Flattens a stretch: short peaks sink to their higher neighbour, the shortest first.</summary>
    /// <param name="segments">All segments.</param>
    /// <param name="stretch">The stretch; its first segment is never taken for a burst.</param>
    /// <param name="longestS">Nothing longer is a burst. [s]</param>
    /// <param name="mostJ">Nothing that holds more above its neighbours is a burst. [J]</param>
    /// <param name="chargeW">Level of the charge: what comes back to it from a level that a full device does not draw was throttled, and is
    /// no burst. [W]</param>
    /// <returns>The pieces of the base, in order and without holes.</returns>
    public static List<BasePiece> Base(IReadOnlyList<PowerSegment> segments, SegmentRun stretch, double longestS, double mostJ,
        double chargeW)
    {
        var groups = Enumerable.Range(stretch.From, stretch.To - stretch.From)
            .Select(i => new Group(i, i, i + 1, segments[i].DurationS, 0)).ToList();
        while (ShortestPeak(segments, groups, longestS, mostJ, chargeW) is { } peak)
        {
            var top = groups[peak];
            double peakJ = (RiseW(segments, groups, peak) * top.DurationS) + top.SunkJ;
            bool left = peak + 1 == groups.Count || EndW(segments[groups[peak - 1].Core]) >= StartW(segments[groups[peak + 1].Core]);
            int into = left ? peak - 1 : peak + 1;
            groups[into] = groups[into] with
            {
                From = Math.Min(groups[into].From, top.From),
                To = Math.Max(groups[into].To, top.To),
                DurationS = groups[into].DurationS + top.DurationS,
                SunkJ = groups[into].SunkJ + peakJ,
            };
            groups.RemoveAt(peak);
        }

        return [.. groups.Select(g => new BasePiece(g.Core, g.From, g.To))];
    }

    /// <summary>Level at the start of a stretch; of a short one that scatters its mean. [W]</summary>
    public static double StartW(in PowerSegment s) => HasKnownLine(s) ? s.FirstW : s.MeanW;

    /// <summary>Level at the end of a stretch; of a short one that scatters its mean. [W]</summary>
    public static double EndW(in PowerSegment s) => HasKnownLine(s) ? s.LastW : s.MeanW;

    /// <summary>Whether the line of a stretch says where it starts and ends: by its length, or as it is far steeper than it
    /// scatters.</summary>
    public static bool HasKnownLine(in PowerSegment s) =>
        s.To - s.From > ShortCells || (s.To - s.From > 3 && Math.Abs(s.DropW) > PlainError * s.DropErrorW);

    private delegate double LevelAt(in PowerSegment s);

    // The flanks of a burst are steep stretches of their own, whose near end is as high as its top: their mean is what it stands out of.
    private static double BesideW(in PowerSegment s, LevelAt nearEnd) => Math.Min(nearEnd(s), s.MeanW);

    private static int? ShortestPeak(IReadOnlyList<PowerSegment> segments, List<Group> groups, double longestS, double mostJ,
        double chargeW)
    {
        int? peak = null;
        for (int i = 1; i < groups.Count; i++)
        {
            var g = groups[i];
            double rise = RiseW(segments, groups, i);
            bool sinks = rise > 0 && g.DurationS <= longestS && (rise * g.DurationS) + g.SunkJ <= mostJ
                && !(segments[g.Core].MeanW > BackShare * chargeW && segments[g.Core].MeanW - rise > ThrottledShare * chargeW
                    && IsLong(groups, i));
            peak = sinks && (peak is not { } p || g.DurationS < groups[p].DurationS) ? i : peak;
        }

        return peak;
    }

    private static bool IsLong(List<Group> groups, int index)
    {
        double beside = index + 1 < groups.Count
            ? Math.Min(groups[index - 1].DurationS, groups[index + 1].DurationS)
            : groups[index - 1].DurationS;
        return groups[index].DurationS >= LongShare * beside;
    }

    /// <summary>How far a piece stands above the higher of its neighbours. [W]</summary>
    private static double RiseW(IReadOnlyList<PowerSegment> segments, List<Group> groups, int index)
    {
        double right = index + 1 < groups.Count ? BesideW(segments[groups[index + 1].Core], StartW) : double.NegativeInfinity;
        return segments[groups[index].Core].MeanW - Math.Max(BesideW(segments[groups[index - 1].Core], EndW), right);
    }
}
