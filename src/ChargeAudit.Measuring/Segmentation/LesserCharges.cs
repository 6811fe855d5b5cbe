namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Finds charges that draw far less than another one in the same log. Between two returns to the lowest level power has a plateau of its
/// own: what stands clear of the lowest level for long there, and falls as that of a battery does, is looked at as a charge, however low
/// beside the log's highest plateau. Pure. <i>Common practice, no source.</i>
/// </summary>
internal sealed class LesserCharges(IReadOnlyList<PowerSegment> segments, PowerLevels levels, SegmentMeasures measures, ModeOptions options,
    double leastChargeS)
{
    /// <summary>Power is back at the lowest level within this share of the way to the log's highest plateau. [1]</summary>
    private const double AtLowestShare = 0.05;

    /// <summary>A stretch is looked at above this share of the way to its own plateau. [1]</summary>
    private const double HighShare = 0.25;

    /// <summary>It lasts for at least this long, and stands at least this many times as high as the lowest level: a charger that waits, or
    /// a device in use, does not. [s], [1]</summary>
    private const double LeastS = 1200;
    private const double LeastRatio = 5;

    /// <summary>The given runs with those of lesser charges, in order.</summary>
    /// <param name="runs">What stands clear of the lowest level by the log's highest plateau.</param>
    public List<SegmentRun> With(List<SegmentRun> runs)
    {
        var all = new List<SegmentRun>(runs);
        for (int i = 0; i < segments.Count; i++)
        {
            if (IsBack(i))
            {
                continue;
            }

            int from = i;
            while (i < segments.Count && !IsBack(i))
            {
                i++;
            }

            // A rise is seen, and a return: before its first rise a log may show a full device.
            if (from > 0 && i < segments.Count && !runs.Exists(r => r.From < i && from < r.To)
                && RunIn(from, i) is { } lesser)
            {
                all.Add(lesser);
            }
        }

        return [.. all.OrderBy(r => r.From)];
    }

    private bool IsBack(int index) => segments[index].DurationS >= leastChargeS
        && segments[index].MeanW - levels.LowestW <= AtLowestShare * (levels.PlateauW - levels.LowestW);

    private SegmentRun? RunIn(int from, int to)
    {
        double ownW = measures.LevelW(new SegmentRun(from, to));
        double aboveW = levels.LowestW + (HighShare * (ownW - levels.LowestW));
        int first = from;
        while (segments[first].MeanW <= aboveW)
        {
            first++;
        }

        int end = first;
        while (end < to && segments[end].MeanW > aboveW)
        {
            end++;
        }

        var run = new SegmentRun(first, end);
        return ownW >= Math.Max(options.LeastChargePowerW, LeastRatio * levels.LowestW)
            && measures.DurationS(run) >= LeastS && measures.Falls(run)
            ? run
            : null;
    }
}
