namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A stretch of segments that is one charge, a burst or a top-up.</summary>
/// <param name="From">First segment.</param>
/// <param name="To">Segment after the last.</param>
internal readonly record struct SegmentRun(int From, int To);

/// <summary>Length, energy and level of stretches of segments. Pure.</summary>
internal sealed class SegmentMeasures(IReadOnlyList<PowerSegment> segments, PowerLevels levels)
{
    /// <summary>Length of a run. [s]</summary>
    public double DurationS(SegmentRun run) => segments[run.To - 1].EndS - segments[run.From].StartS;

    /// <summary>Energy of a run above the lowest level. [J]</summary>
    public double EnergyJ(SegmentRun run) => EnergyJ(run, levels.LowestW);

    /// <summary>Energy of a run above a level. [J]</summary>
    public double EnergyJ(SegmentRun run, double aboveW)
    {
        double energy = 0;
        for (int i = run.From; i < run.To; i++)
        {
            energy += (segments[i].MeanW - aboveW) * segments[i].DurationS;
        }

        return energy;
    }

    /// <summary>Level of a run's high part: a quarter of its energy is drawn above it. [W]</summary>
    public double LevelW(SegmentRun run)
    {
        var sorted = Enumerable.Range(run.From, run.To - run.From).Select(i => segments[i]).OrderByDescending(s => s.MeanW).ToList();
        double quarter = 0.25 * sorted.Sum(s => s.MeanW * s.DurationS);
        double energy = 0;
        foreach (var s in sorted)
        {
            energy += s.MeanW * s.DurationS;
            if (energy >= quarter)
            {
                return s.MeanW;
            }
        }

        return sorted[^1].MeanW;
    }

    /// <summary>The level below and above which the given segments spend the same time. [W]</summary>
    public double MedianW(IEnumerable<int> indexes)
    {
        var sorted = indexes.OrderBy(i => segments[i].MeanW).ToList();
        double half = 0.5 * sorted.Sum(i => segments[i].DurationS);
        double time = 0;
        foreach (int i in sorted)
        {
            time += segments[i].DurationS;
            if (time >= half)
            {
                return segments[i].MeanW;
            }
        }

        return segments[sorted[^1]].MeanW;
    }

    /// <summary>Mean over a stretch of time; zero where nothing was logged. [W]</summary>
    public double MeanW(double fromS, double toS) => PieceMean.Of(segments.Select(s => (s.StartS, s.EndS, s.MeanW)), fromS, toS);

    /// <summary>Whether the last tenth of a run draws clearly less than its first third.</summary>
    public bool Falls(SegmentRun run)
    {
        double start = segments[run.From].StartS;
        double end = segments[run.To - 1].EndS;
        double length = end - start;
        return MeanW(end - (0.1 * length), end) < 0.8 * MeanW(start, start + (length / 3));
    }
}
