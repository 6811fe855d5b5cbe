using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Tells which stretches between change points are charges. A charge begins with a rise that lasts and ends where its falling power becomes
/// flat; what comes before the fall is over belongs to it, however low, and what stays flat afterwards does not, however high.
/// </summary>
internal sealed class ChargeFinder(IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options, double leastChargeS,
    double pulsedShare = 0)
{
    /// <summary>A single level without start, end or fall that lasts longer than this is not a charge. [s]</summary>
    private const double LongestFlatChargeS = 6 * 3600;

    /// <summary>A single level with pulses in more than this share of the time is a charger that waits. [1]</summary>
    private const double MostlyPulsed = 0.5;

    /// <summary>Readings go to and fro between two neighbouring steps about one level; two levels lie this share of a step apart, as far as
    /// rows between them blend. [1]</summary>
    private const double OneStep = 0.9;

    /// <summary>A charge that draws less than is expected of one lasts at least this long, and rises by this share of what was drawn
    /// before. [s], [1]</summary>
    private const double LeastSmallChargeS = 1200;
    private const double SmallRise = 0.5;

    private readonly SegmentMeasures _measures = new(segments, levels);
    private readonly ChargeTrimmer _trimmer = new(segments, levels, new SegmentMeasures(segments, levels), options, leastChargeS);
    private readonly ChargeHolds _holds = new(segments, levels, new SegmentMeasures(segments, levels), options, leastChargeS);
    private readonly LesserCharges _lesser = new(segments, levels, new SegmentMeasures(segments, levels), options, leastChargeS);
    private double _highestW;
    private double _greatestJ;

    public List<Doubt> Doubts { get; } = [];

    /// <summary>Bursts that are not charges, as found on the way.</summary>
    public List<SegmentRun> Bursts { get; } = [];

    /// <summary>Waits of hours within a charge that was finished after them.</summary>
    public List<SegmentRun> Holds { get; } = [];

    /// <summary>First stages whose owner (device or waiting charger) power alone does not tell.</summary>
    public IReadOnlyList<FirstStage> OpenStages => _trimmer.OpenStages;

    /// <summary>Last stairs of falls that may be a full device.</summary>
    public IReadOnlyList<LastStair> OpenStairs => _trimmer.OpenStairs;

    public List<SegmentRun> Find()
    {
        if (options.Purpose == LogPurpose.Standby)
        {
            return [];
        }

        double contrast = levels.PlateauW - levels.LowestW;
        if (contrast < 0.3 * levels.PlateauW || contrast < Math.Max(4 * levels.NoiseW, OneStep * levels.ApartW))
        {
            return SingleLevel();
        }

        var runs = HighRuns();
        if (options.Purpose != LogPurpose.Charge && levels.PlateauW < options.LeastChargePowerW
            && !(levels.PlateauW >= 5 * levels.LowestW && runs.Exists(_measures.Falls)))
        {
            return SmallCharge(runs);
        }

        if (ArePulses(runs))
        {
            Bursts.AddRange(runs);
            Doubts.Add(
                "The log holds short bursts of about equal size and no charge: they are taken for the pulses of a waiting charger. If a "
                + "full device lay on it, the state is full and not waiting.");
            return [];
        }

        return Joined(_lesser.With(runs));
    }

    private List<SegmentRun> SingleLevel()
    {
        var whole = new SegmentRun(0, segments.Count);
        if (options.Purpose != LogPurpose.Charge && levels.PlateauW < options.LeastChargePowerW)
        {
            return [];
        }

        if (options.Purpose != LogPurpose.Charge && pulsedShare > MostlyPulsed)
        {
            Doubts.Add("The log shows one level with short pulses on it all the time and no charge: it is taken for a charger that waits.");
            return [];
        }

        if (_measures.DurationS(whole) > LongestFlatChargeS && !_measures.Falls(whole))
        {
            Doubts.Add("The log shows one level without a beginning or an end for more than 6 h: no charge can be recognised in it.");
            return [];
        }

        Doubts.Add("The log shows one level only and no end of charge: it is taken for a charge that was cut out or cut short.");
        return [whole];
    }

    // A small battery on a pad adds little to what the pad draws alone. One long rise that falls again as a battery does is its charge; one
    // that does not might be the pad's own.
    private List<SegmentRun> SmallCharge(List<SegmentRun> runs)
    {
        double rise = levels.PlateauW - levels.LowestW;
        if (runs.Count != 1 || _measures.DurationS(runs[0]) < LeastSmallChargeS || rise < SmallRise * levels.LowestW
            || rise < 8 * levels.NoiseW)
        {
            return [];
        }

        string what =
            Prose.Of(
                $"The log rises from {levels.LowestW:G3} W to {levels.PlateauW:G3} W once, for {_measures.DurationS(runs[0]) / 60:F0} min");
        var charges = Joined(runs);
        var whole = charges.Count == 1
            ? _measures.MeanW(segments[charges[0].From].StartS, segments[charges[0].From].StartS + (_measures.DurationS(charges[0]) / 3))
            : 0;
        double endW = charges.Count == 1 ? segments[charges[0].To - 1].LastW : double.PositiveInfinity;
        if (charges.Count != 1 || endW - levels.LowestW > 0.8 * (whole - levels.LowestW))
        {
            Doubts.Add(
                $"{what}, less than a charge is expected to draw (least-charge-power in [modes] of a study), and does not fall as that "
                    + $"of a battery does when it fills up: no charge is recognised.");
            Bursts.Clear();
            return [];
        }

        Doubts.Add(
            $"{what}, less than a charge is expected to draw, and falls as that of a battery does when it fills up: it is taken for the "
                + $"charge of a small battery.");
        return charges;
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
        if (runs.Count < 3 || runs.Exists(r => _measures.DurationS(r) > ChargeTrimmer.ShortBurstS))
        {
            return false;
        }

        var energies = runs.Select(r => _measures.EnergyJ(r)).Order().ToList();
        double duty = runs.Sum(_measures.DurationS) / _measures.DurationS(new SegmentRun(0, segments.Count));
        return duty < 0.3 && energies[^1] < 3 * energies[energies.Count / 2];
    }

    private List<SegmentRun> Joined(List<SegmentRun> runs)
    {
        var charges = new List<SegmentRun>();
        _greatestJ = runs.Select(r => _measures.EnergyJ(r)).DefaultIfEmpty(0).Max();
        _highestW = runs.Where(r => _measures.DurationS(r) >= leastChargeS).Select(_measures.LevelW).DefaultIfEmpty(0).Max();
        for (int i = 0; i < runs.Count; i++)
        {
            var last = charges.Count > 0 ? charges[^1] : (SegmentRun?)null;
            if (last is { } c && runs[i].From < c.To)
            {
                continue;
            }

            bool adjoins = last?.To == runs[i].From;
            bool finishes = !adjoins && last is { } held && !Continues(held, runs[i]) && _holds.Finishes(held, runs[i]);
            if (finishes)
            {
                Holds.Add(new SegmentRun(last!.Value.To, runs[i].From));
                Doubts.Add(_holds.HoldDoubt(Holds[^1]));
                // The end is found from the run that finishes it, which may run lower than what came first.
                charges[^1] = new SegmentRun(last.Value.From, Trimmed(runs[i], Limit(runs, i), last.Value.To).To);
            }
            else if (!adjoins && IsBurst(runs[i], last))
            {
                AddBurst(runs[i]);
            }
            else if (last is { } before && (adjoins || Continues(before, runs[i])))
            {
                if (_holds.UnpluggedDoubt(before, runs[i]) is { } doubt)
                {
                    Doubts.Add(doubt);
                }

                charges[^1] = Trimmed(new SegmentRun(before.From, runs[i].To), Limit(runs, i), charges.Count > 1 ? charges[^2].To : 0);
            }
            else if (last is null || !IsKeeping(runs[i], last.Value))
            {
                if (last is { } first && _holds.MayGoOn(first, runs[i]))
                {
                    Doubts.Add(_holds.PauseDoubt(first, runs[i]));
                }

                charges.Add(Trimmed(runs[i], Limit(runs, i), last?.To ?? 0));
            }
        }

        Doubts.AddRange(OpenStages.Where(s => charges.Exists(c => c.From == s.Charge)).Select(s => (Doubt)s.Doubt(segments)));
        Bursts.RemoveAll(b => charges.Exists(c => b.From < c.To && c.From < b.To));
        return charges;
    }

    private SegmentRun Trimmed(SegmentRun run, int limit, int earliest)
    {
        var (charge, bursts) = _trimmer.Trimmed(run, limit, earliest);
        bursts.ToList().ForEach(AddBurst);
        return charge;
    }

    private void AddBurst(SegmentRun burst)
    {
        if (!Bursts.Exists(b => b.From < burst.To && burst.From < b.To))
        {
            Bursts.Add(burst);
        }
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
        double length = _measures.DurationS(run);
        if (length < leastChargeS)
        {
            return true;
        }

        if (length <= ChargeTrimmer.ShortBurstS && _measures.LevelW(run) < 0.5 * _highestW)
        {
            return true;
        }

        if (charge is null)
        {
            return length <= ChargeTrimmer.ShortBurstS && _measures.EnergyJ(run) <= options.TopUpShare * _greatestJ;
        }

        return charge is { } before
            && _measures.EnergyJ(run, segments[run.From - 1].MeanW) <= options.TopUpShare * _measures.EnergyJ(before)
            && (length <= ChargeTrimmer.ShortBurstS || !IsGoneBetween(before.To, run.From));
    }

    /// <summary>Whether a run is the flat level of a full device that never left, though it lies above the level at which charges are
    /// looked for.</summary>
    private bool IsKeeping(SegmentRun run, SegmentRun charge)
    {
        double level = _measures.LevelW(charge);
        return Enumerable.Range(run.From, run.To - run.From).All(i => _trimmer.IsIdle(segments[i], level))
            && !IsGoneBetween(charge.To, run.From) && !_holds.IsGone(charge, run);
    }

    /// <summary>Whether a run goes on with a charge after a pause, with about the power at which it was interrupted.</summary>
    private bool Continues(SegmentRun charge, SegmentRun next)
    {
        const double Near = 300;
        double end = segments[charge.To - 1].EndS;
        double start = segments[next.From].StartS;
        double before = _measures.MeanW(Math.Max(segments[charge.From].StartS, end - Near), end);
        double after = _measures.MeanW(start, Math.Min(segments[next.To - 1].EndS, start + Near));
        double level = _measures.LevelW(charge);

        // A device that was lost for minutes while it was throttled may come back at full power.
        bool lost = start - end <= Near && before >= 0.4 * level && after <= 1.2 * level;
        return start - end <= options.LongestPauseS && (after <= 1.6 * before || lost);
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
}
