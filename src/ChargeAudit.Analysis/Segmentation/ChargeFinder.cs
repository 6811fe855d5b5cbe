namespace ChargeAudit.Analysis.Segmentation;

/// <summary>A stretch of segments that is one charge, a burst or a top-up.</summary>
/// <param name="From">First segment.</param>
/// <param name="To">Segment after the last.</param>
internal readonly record struct SegmentRun(int From, int To);

/// <summary>
/// Tells which stretches between change points are charges. A charge begins with a rise that lasts and ends where its falling power becomes flat;
/// what comes before the fall is over belongs to it, however low, and what stays flat afterwards does not, however high.
/// </summary>
internal sealed class ChargeFinder(IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options)
{
    /// <summary>Power that falls slower than this share of the plateau in an hour is flat: thermal drift, not a battery filling up. [1/h]</summary>
    private const double FlatSharePerHour = 0.03;

    /// <summary>A flat stretch above this share of its charge's own level is part of the charge. [1]</summary>
    private const double IdleShare = 0.45;

    /// <summary>A single level without start, end or fall that lasts longer than this is no charge. [s]</summary>
    private const double LongestFlatChargeS = 6 * 3600;

    private readonly double _endS = segments[^1].EndS;

    public List<string> Doubts { get; } = [];

    /// <summary>Bursts that are no charge, as found on the way.</summary>
    public List<SegmentRun> Bursts { get; } = [];

    public List<SegmentRun> Find()
    {
        if (options.Purpose == LogPurpose.Standby)
        {
            return [];
        }

        double contrast = levels.PlateauW - levels.LowestW;
        if (contrast < 0.3 * levels.PlateauW || contrast < Math.Max(4 * levels.NoiseW, levels.StepW))
        {
            return SingleLevel();
        }

        var runs = HighRuns();
        if (levels.PlateauW < options.LeastChargePowerW && !(levels.PlateauW >= 5 * levels.LowestW && runs.Exists(Falls)))
        {
            return [];
        }

        if (ArePulses(runs))
        {
            Bursts.AddRange(runs);
            Doubts.Add("The log holds short bursts of about equal size and no charge: they are taken for the pulses of a waiting charger. If a full device lay on it, this is maintenance.");
            return [];
        }

        return Joined(runs);
    }

    /// <summary>Whether the power of a segment is flat and low beside a charge of the given level.</summary>
    public static bool IsIdle(in PowerSegment s, double chargeW) => s.MeanW < IdleShare * chargeW && !Declines(s, chargeW);

    private static bool Declines(in PowerSegment s, double chargeW) =>
        s.DropW > 5 * s.DropErrorW && s.DropW / (s.DurationS / 3600) > FlatSharePerHour * chargeW;

    private List<SegmentRun> SingleLevel()
    {
        var whole = new SegmentRun(0, segments.Count);
        if (levels.PlateauW < options.LeastChargePowerW)
        {
            return [];
        }

        if (_endS - segments[0].StartS > LongestFlatChargeS && !Falls(whole))
        {
            Doubts.Add("The log shows one level without a beginning or an end for more than 6 h: no charge can be told from it.");
            return [];
        }

        Doubts.Add("The log shows one level only and no end of charge: it is taken for a charge that was cut out or cut short.");
        return [whole];
    }

    private List<SegmentRun> HighRuns()
    {
        var runs = new List<SegmentRun>();
        for (int i = 0; i < segments.Count; i++)
        {
            if (segments[i].MeanW <= levels.ChargeAboveW)
            {
                continue;
            }

            int from = i;
            while (i < segments.Count && segments[i].MeanW > levels.ChargeAboveW)
            {
                i++;
            }

            runs.Add(new SegmentRun(from, i));
        }

        return runs;
    }

    /// <summary>Whether at least three runs, all short and of about the same size, fill a small part of the time.</summary>
    private bool ArePulses(List<SegmentRun> runs)
    {
        if (runs.Count < 3 || runs.Exists(r => DurationS(r) > 900))
        {
            return false;
        }

        var energies = runs.Select(EnergyJ).Order().ToList();
        double duty = runs.Sum(DurationS) / (_endS - segments[0].StartS);
        return duty < 0.3 && energies[^1] < 3 * energies[energies.Count / 2];
    }

    private List<SegmentRun> Joined(List<SegmentRun> runs)
    {
        var charges = new List<SegmentRun>();
        for (int i = 0; i < runs.Count; i++)
        {
            int limit = i + 1 < runs.Count ? runs[i + 1].From : segments.Count;
            var run = Trimmed(runs[i], limit);
            if (charges.Count > 0 && Continues(charges[^1], run))
            {
                charges[^1] = new SegmentRun(charges[^1].From, run.To);
            }
            else if (charges.Count > 0 && IsTopUp(charges[^1], run))
            {
                Bursts.Add(run);
            }
            else if (DurationS(run) < options.LeastChargeS)
            {
                Bursts.Add(run);
            }
            else
            {
                charges.Add(run);
            }
        }

        return charges;
    }

    private SegmentRun Trimmed(SegmentRun run, int limit)
    {
        double level = LevelW(run);
        int from = run.From;
        while (from < run.To - 1 && IsIdle(segments[from], level) && segments[from].DurationS >= options.LeastChargeS)
        {
            from++;
        }

        int to = limit;
        while (to > from + 1 && (IsIdle(segments[to - 1], level) || IsSmallBurst(to - 1, from, level)))
        {
            to--;
        }

        return new SegmentRun(from, to);
    }

    /// <summary>A short rise out of a flat stretch, too small to be seen as a run of its own.</summary>
    private bool IsSmallBurst(int index, int from, double level) =>
        index - 1 > from
        && segments[index].MeanW < IdleShare * level
        && segments[index].DurationS <= 900
        && segments[index].FirstW > 1.1 * segments[index - 1].LastW
        && IsIdle(segments[index - 1], level);

    /// <summary>Whether a run goes on with a charge: right away, or after a pause with about the power at which it was interrupted.</summary>
    private bool Continues(SegmentRun charge, SegmentRun next)
    {
        double pause = segments[next.From].StartS - segments[charge.To - 1].EndS;
        if (pause <= 0)
        {
            return true;
        }

        double before = segments[charge.To - 1].LastW;
        double after = segments[next.From].FirstW;
        return pause <= options.LongestPauseS && after <= 1.6 * before && DurationS(next) >= options.LeastChargeS;
    }

    private bool IsTopUp(SegmentRun charge, SegmentRun next)
    {
        double share = EnergyJ(next) / EnergyJ(charge);
        bool gone = false;
        for (int i = charge.To; i < next.From; i++)
        {
            gone |= segments[i].MeanW < 0.5 * segments[charge.To].MeanW && segments[i].DurationS >= options.LeastChargeS;
        }

        return !gone && share <= options.TopUpShare;
    }

    /// <summary>Whether the last third of a run draws clearly less than its first.</summary>
    private bool Falls(SegmentRun run)
    {
        double start = segments[run.From].StartS;
        double end = segments[run.To - 1].EndS;
        double third = (end - start) / 3;
        return MeanW(end - third, end) < 0.8 * MeanW(start, start + third);
    }

    private double MeanW(double fromS, double toS)
    {
        double energy = 0;
        double time = 0;
        foreach (var s in segments)
        {
            double overlap = Math.Min(toS, s.EndS) - Math.Max(fromS, s.StartS);
            if (overlap > 0)
            {
                energy += s.MeanW * overlap;
                time += overlap;
            }
        }

        return time > 0 ? energy / time : 0;
    }

    private double DurationS(SegmentRun run) => segments[run.To - 1].EndS - segments[run.From].StartS;

    private double EnergyJ(SegmentRun run)
    {
        double energy = 0;
        for (int i = run.From; i < run.To; i++)
        {
            energy += (segments[i].MeanW - levels.LowestW) * segments[i].DurationS;
        }

        return energy;
    }

    /// <summary>Level of a run, weighted by energy so that its low parts hardly count. [W]</summary>
    private double LevelW(SegmentRun run)
    {
        double first = 0;
        double second = 0;
        for (int i = run.From; i < run.To; i++)
        {
            first += segments[i].MeanW * segments[i].DurationS;
            second += segments[i].MeanW * segments[i].MeanW * segments[i].DurationS;
        }

        return first > 0 ? second / first : 0;
    }
}
