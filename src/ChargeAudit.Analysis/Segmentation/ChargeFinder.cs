namespace ChargeAudit.Analysis.Segmentation;

/// <summary>A stretch of segments that is one charge, a burst or a top-up.</summary>
/// <param name="From">First segment.</param>
/// <param name="To">Segment after the last.</param>
internal readonly record struct SegmentRun(int From, int To);

/// <summary>
/// Tells which stretches between change points are charges. A charge begins with a rise that lasts and ends where its falling power becomes flat;
/// what comes before the fall is over belongs to it, however low, and what stays flat afterwards does not, however high.
/// </summary>
internal sealed class ChargeFinder(IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options, double leastChargeS)
{
    /// <summary>Power that falls slower than this share of the plateau in an hour is flat: thermal drift, not a battery filling up. [1/h]</summary>
    private const double FlatSharePerHour = 0.03;

    /// <summary>A flat stretch above this share of its charge's own level is part of the charge. [1]</summary>
    private const double IdleShare = 0.6;

    /// <summary>A single level without start, end or fall that lasts longer than this is no charge. [s]</summary>
    private const double LongestFlatChargeS = 6 * 3600;

    /// <summary>
    /// A tail still draws at least this share, above the level after it, of what was drawn before it; less is the wandering of a full device's own load. [1]
    /// </summary>
    private const double LeastTailShare = 0.2;

    /// <summary>
    /// A fall goes on by at least this share of the step that led into it; less is the wandering of a full device's load after the charger has let go. [1]
    /// </summary>
    private const double LeastDropByStep = 0.25;

    /// <summary>Levels no further apart than this share are about the same. [1]</summary>
    private const double AboutTheSame = 0.15;

    /// <summary>Nothing longer is a step. [s]</summary>
    private const double LongestStepS = 40;

    /// <summary>Nothing longer is a burst. [s]</summary>
    private const double ShortBurstS = 900;

    private double _highestW;

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
        if (options.Purpose != LogPurpose.Charge && levels.PlateauW < options.LeastChargePowerW && !(levels.PlateauW >= 5 * levels.LowestW && runs.Exists(Falls)))
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
    private bool IsIdle(int index, double chargeW) => segments[index].MeanW < IdleShare * chargeW && !Declines(index, chargeW);

    /// <summary>
    /// Whether power falls within a segment, and does not merely come back from a burst of the device's own load: the lowest of the three segments before
    /// must lie higher, too.
    /// </summary>
    private bool Declines(int index, double chargeW)
    {
        var s = segments[index];
        if (!FallsWithin(s, chargeW))
        {
            return false;
        }

        if (s.DropW < LeastDropByStep * (LevelBefore(index) - s.FirstW))
        {
            return false;
        }

        double before = double.PositiveInfinity;
        for (int i = Math.Max(0, index - 3); i < index; i++)
        {
            before = segments[i].MeanW > levels.ChargeAboveW || i >= index - 2 ? Math.Min(before, segments[i].MeanW) : before;
        }

        return before - s.LastW >= 0.5 * s.DropW;
    }

    /// <summary>Where power stood before it came down to about the level of a segment; steps drawn out by a cell are passed over. [W]</summary>
    private double LevelBefore(int index)
    {
        double level = segments[index].MeanW;
        int i = index - 1;
        while (i > 0 && (segments[i].DurationS <= LongestStepS || Math.Abs(segments[i].MeanW - level) < AboutTheSame * level))
        {
            i--;
        }

        return i >= 0 ? segments[i].LastW : double.NegativeInfinity;
    }

    private static bool FallsWithin(in PowerSegment s, double chargeW) =>
        s.DropW > 5 * s.DropErrorW && s.DropW / (s.DurationS / 3600) > FlatSharePerHour * chargeW;

    private List<SegmentRun> SingleLevel()
    {
        var whole = new SegmentRun(0, segments.Count);
        if (options.Purpose != LogPurpose.Charge && levels.PlateauW < options.LeastChargePowerW)
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
        if (runs.Count < 3 || runs.Exists(r => DurationS(r) > ShortBurstS))
        {
            return false;
        }

        var energies = runs.Select(r => EnergyJ(r)).Order().ToList();
        double duty = runs.Sum(DurationS) / (_endS - segments[0].StartS);
        return duty < 0.3 && energies[^1] < 3 * energies[energies.Count / 2];
    }

    private List<SegmentRun> Joined(List<SegmentRun> runs)
    {
        var charges = new List<SegmentRun>();
        _highestW = runs.Where(r => DurationS(r) >= leastChargeS).Select(LevelW).DefaultIfEmpty(0).Max();
        for (int i = 0; i < runs.Count; i++)
        {
            var last = charges.Count > 0 ? charges[^1] : (SegmentRun?)null;
            if (last is { } c && runs[i].From < c.To)
            {
                continue;
            }

            bool adjoins = last?.To == runs[i].From;
            if (!adjoins && IsBurst(runs[i], last))
            {
                Bursts.Add(runs[i]);
            }
            else if (last is { } before && (adjoins || Continues(before, runs[i])))
            {
                charges[^1] = Trimmed(new SegmentRun(before.From, runs[i].To), Limit(runs, i));
            }
            else if (last is null || !IsKeeping(runs[i], last.Value))
            {
                charges.Add(Trimmed(runs[i], Limit(runs, i)));
            }
        }

        return charges;
    }

    /// <summary>Start of the next run that is more than a burst: bursts may lie within a fall, and do not end it.</summary>
    private int Limit(List<SegmentRun> runs, int index)
    {
        int next = index + 1;
        while (next < runs.Count && IsBurst(runs[next], runs[index]))
        {
            next++;
        }

        return next < runs.Count ? runs[next].From : segments.Count;
    }

    /// <summary>Whether a run is too short for a charge, or is what a full battery takes now and then.</summary>
    private bool IsBurst(SegmentRun run, SegmentRun? charge)
    {
        double length = DurationS(run);
        if (length < leastChargeS)
        {
            return true;
        }

        if (length <= ShortBurstS && LevelW(run) < 0.5 * _highestW)
        {
            return true;
        }

        return charge is { } before
            && EnergyJ(run, segments[run.From - 1].MeanW) <= options.TopUpShare * EnergyJ(before)
            && (length <= ShortBurstS || !IsGoneBetween(before.To, run.From));
    }

    /// <summary>Whether a run is the flat level of a full device that never left, though it lies above the level at which charges are looked for.</summary>
    private bool IsKeeping(SegmentRun run, SegmentRun charge)
    {
        double level = LevelW(charge);
        return Enumerable.Range(run.From, run.To - run.From).All(i => IsIdle(i, level)) && !IsGoneBetween(charge.To, run.From);
    }

    /// <summary>The high part of a run without the flat stretches before it, and with the fall that follows it.</summary>
    private SegmentRun Trimmed(SegmentRun run, int limit)
    {
        double level = LevelW(run);
        int from = run.From;
        while (from < run.To - 1 && segments[from].DurationS >= leastChargeS && segments[from].MeanW < IdleShare * level && !FallsWithin(segments[from], level))
        {
            from++;
        }

        int to = limit;
        while (to > from + 1)
        {
            if (IsIdle(to - 1, level))
            {
                to--;
            }
            else if (to < limit && BurstBefore(to, from, level) is { } burst)
            {
                Bursts.Add(burst);
                to = burst.From;
            }
            else
            {
                break;
            }
        }

        return new SegmentRun(from, TailEnd(from, to, limit));
    }

    /// <summary>
    /// The end of the fall's last, slow part: it goes on from what came before without a step, falls by a part of what it draws above the level after it,
    /// and ends in a step down.
    /// </summary>
    private int TailEnd(int from, int to, int limit)
    {
        while (to < limit - 1)
        {
            var (before, tail, after) = (segments[to - 1], segments[to], segments[to + 1]);
            double stepIn = Math.Abs(before.LastW - tail.FirstW);
            double stepOut = tail.LastW - after.FirstW;
            bool falls = tail.DropW > Math.Max(3 * tail.DropErrorW, 0.1 * (tail.FirstW - after.MeanW))
                && tail.FirstW - after.MeanW >= LeastTailShare * (before.FirstW - after.MeanW)
                && stepOut >= stepIn
                && tail.DurationS <= 0.5 * (before.EndS - segments[from].StartS);

            // A burst of the device's own load can hide the fall for a while.
            double later = after.MeanW;
            for (int i = to + 2; i < limit && (i < to + 4 || segments[i].StartS < tail.EndS + ShortBurstS); i++)
            {
                later = Math.Min(later, segments[i].MeanW);
            }

            bool stillHigh = tail.DurationS <= 600 && tail.MeanW >= later + (0.6 * (before.LastW - later)) && before.LastW > later + (4 * levels.NoiseW);
            if (!falls && !stillHigh)
            {
                break;
            }

            to++;
        }

        return to;
    }

    /// <summary>A short rise between two flat stretches of about the same level, ending at a segment; null where there is none.</summary>
    private SegmentRun? BurstBefore(int to, int from, double level)
    {
        double length = 0;
        for (int i = to - 1; i > from; i--)
        {
            length += segments[i].DurationS;
            if (length > ShortBurstS || segments[i].MeanW < 1.15 * segments[to].MeanW)
            {
                return null;
            }

            double ratio = segments[i - 1].MeanW / segments[to].MeanW;
            if (IsIdle(i - 1, level) && ratio is > 0.7 and < 1.4)
            {
                var burst = new SegmentRun(i, to);
                return EnergyJ(burst, segments[i - 1].MeanW) <= options.TopUpShare * EnergyJ(new SegmentRun(from, i)) ? burst : null;
            }
        }

        return null;
    }

    /// <summary>Whether a run goes on with a charge after a pause, with about the power at which it was interrupted.</summary>
    private bool Continues(SegmentRun charge, SegmentRun next)
    {
        const double Near = 300;
        double end = segments[charge.To - 1].EndS;
        double start = segments[next.From].StartS;
        double before = MeanW(Math.Max(segments[charge.From].StartS, end - Near), end);
        double after = MeanW(start, Math.Min(segments[next.To - 1].EndS, start + Near));
        return start - end <= options.LongestPauseS && after <= 1.6 * before;
    }

    private bool IsGoneBetween(int from, int to)
    {
        for (int i = from; i < to; i++)
        {
            if (segments[i].MeanW < 0.5 * segments[from].MeanW && segments[i].DurationS >= leastChargeS)
            {
                return true;
            }
        }

        return false;
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

    /// <summary>Energy of a run above the lowest level. [J]</summary>
    private double EnergyJ(SegmentRun run) => EnergyJ(run, levels.LowestW);

    private double EnergyJ(SegmentRun run, double aboveW)
    {
        double energy = 0;
        for (int i = run.From; i < run.To; i++)
        {
            energy += (segments[i].MeanW - aboveW) * segments[i].DurationS;
        }

        return energy;
    }

    /// <summary>Level of a run's high part: a quarter of its energy is drawn above it. [W]</summary>
    private double LevelW(SegmentRun run)
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
}
