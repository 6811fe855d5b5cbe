namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Tells what the time outside charges is. Maintenance can only follow a charge and lasts until power falls to the level of no-load, or,
/// where the log has not shown that level, until it steps down to less than half and no top-up follows. Nothing drawn is off, or no-load
/// where DC voltage is present.
/// </summary>
internal sealed class IdleFinder(
    IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options, IReadOnlyList<SegmentRun> charges,
        IReadOnlyList<SegmentRun> bursts, double meanVolt, double leastChargeS)
{
    /// <summary>A DC supply: below this it is not mains, above 1 V it is switched on. [V]</summary>
    private const double LargestDcVolt = 60;

    /// <summary>What differs from no-load by less than this share of it is no-load. [1]</summary>
    private const double SameShare = 0.05;

    /// <summary>Idle time before a charge that shows the level of no-load. [s]</summary>
    private const double LeastIdleS = 60;

    private readonly SegmentMeasures _measures = new(segments, levels);
    private readonly HashSet<int> _burstSegments = [.. bursts.SelectMany(b => Enumerable.Range(b.From, b.To - b.From))];

    /// <summary>A mean below this is nothing drawn. [W]</summary>
    public double OffBelowW => Math.Max(
        Math.Max(options.ZeroShareOfPlateau * levels.PlateauW, 0.01 * levels.StepW),
        levels.StepW > 0 ? 0 : 3 * levels.NoiseW / Math.Sqrt(20));

    /// <summary>Level of no-load: as given, or as shown before the first charge; null where neither. [W]</summary>
    public double? NoLoadW()
    {
        var idle = Enumerable.Range(0, charges.Count == 0 ? segments.Count : charges[0].From)
            .Where(i => !_burstSegments.Contains(i)).ToList();
        if (options.NoLoadPowerW is { } given)
        {
            // What another log or the kind of charging tells may differ from what this meter shows by its error at zero.
            return charges.Count > 0 && idle.Sum(i => segments[i].DurationS) >= LeastIdleS
                && _measures.MedianW(idle) is var shown && Math.Abs(shown - given) <= options.MeterZeroW ? shown : given;
        }

        // A stretch of few rows that rises by more than its mean holds the start of the charge and shows no level.
        var before = idle.Where(i => segments[i].MeanW > OffBelowW && -segments[i].DropW < segments[i].MeanW).ToList();
        return before.Count == 0 ? null : _measures.MedianW(before);
    }

    /// <summary>Mode of each segment.</summary>
    public Mode[] Label()
    {
        var labels = new Mode[segments.Count];
        int next = 0;
        foreach (var charge in charges)
        {
            Stretch(labels, next, charge.From, next > 0);
            labels.AsSpan(charge.From, charge.To - charge.From).Fill(Mode.Charge);
            next = charge.To;
        }

        Stretch(labels, next, segments.Count, next > 0);
        return labels;
    }

    private void Stretch(Mode[] labels, int from, int to, bool afterCharge)
    {
        int next = from;
        while (next < to)
        {
            int end = next;
            bool off = IsOff(next);
            while (end < to && IsOff(end) == off)
            {
                end++;
            }

            if (off)
            {
                labels.AsSpan(next, end - next).Fill(meanVolt is > 1 and < LargestDcVolt ? Mode.NoLoad : Mode.Off);
            }
            else
            {
                // After the charger was switched off and on again, nothing shows that the device is still there.
                int removed = afterCharge && next == from ? RemovedAt(next, end) : next;
                labels.AsSpan(next, removed - next).Fill(Mode.Maintenance);
                labels.AsSpan(removed, end - removed).Fill(Mode.NoLoad);
            }

            next = end;
        }
    }

    private bool IsOff(int index) => Math.Abs(segments[index].MeanW) <= OffBelowW;

    /// <summary>The segment at which the device was taken off after a charge: the one split of the time into two levels that fits
    /// best.</summary>
    private int RemovedAt(int from, int to) => NoLoadW() is { } level ? SplitBetween(from, to, level) : SplitAtHalf(from, to);

    private int SplitBetween(int from, int to, double noLoad)
    {
        int best = to;
        double least = double.PositiveInfinity;
        double kept = 0;
        for (int split = from; split <= to; split++)
        {
            var before = Enumerable.Range(from, split - from).Where(i => !_burstSegments.Contains(i)).ToList();
            double maintenance = before.Count > 0 ? _measures.MedianW(before) : noLoad;
            double cost = 0;
            for (int i = from; i < to; i++)
            {
                cost += _burstSegments.Contains(i)
                    ? 0
                    : segments[i].DurationS * Math.Abs(segments[i].MeanW - (i < split ? maintenance : noLoad));
            }

            // Bursts count for neither side; as they are a full device's, the later of two equal places is taken.
            if (cost <= least)
            {
                least = cost;
                best = split;
                kept = maintenance;
            }
        }

        // The level that the charger is known to draw alone is no-load, whether or not a device that takes nothing still lies there; a step
        // down or top-ups show that one does.
        bool same = Math.Abs(kept - noLoad) < Math.Max(SameShare * noLoad, levels.NoiseW);
        bool brokeOff = from > 0 && segments[from - 1].MeanW > 0.5 * levels.PlateauW;
        bool staysLevel = best == to
            || kept - _measures.MedianW(Enumerable.Range(best, to - best)) < Math.Max(0.4 * SameShare * noLoad, levels.NoiseW);
        return same && (brokeOff || (staysLevel && !Enumerable.Range(from, to - from).Any(_burstSegments.Contains))) ? from : best;
    }

    private int SplitAtHalf(int from, int to)
    {
        int lastTopUp = Enumerable.Range(from, to - from).LastOrDefault(_burstSegments.Contains, from - 1);
        double maintenance = segments[from].MeanW;
        for (int i = Math.Max(from + 1, lastTopUp + 1); i < to; i++)
        {
            if (segments[i].MeanW < 0.5 * maintenance && segments[i].DurationS >= leastChargeS)
            {
                return i;
            }
        }

        return to;
    }
}
