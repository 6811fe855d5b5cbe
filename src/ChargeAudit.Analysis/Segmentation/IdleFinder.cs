namespace ChargeAudit.Analysis.Segmentation;

/// <summary>
/// Tells what the time outside charges is. Maintenance can only follow a charge and lasts until power falls to the level of no-load, or, where the log
/// has not shown that level, until it steps down to less than half and no top-up follows. Nothing drawn is off, or no-load where DC voltage is present.
/// </summary>
internal sealed class IdleFinder(
    IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options, IReadOnlyList<SegmentRun> charges, IReadOnlyList<SegmentRun> bursts, double meanVolt)
{
    /// <summary>A DC supply: below this it is no mains, above 1 V it is switched on. [V]</summary>
    private const double LargestDcVolt = 60;

    private readonly HashSet<int> _burstSegments = [.. bursts.SelectMany(b => Enumerable.Range(b.From, b.To - b.From))];

    /// <summary>A mean below this is nothing drawn. [W]</summary>
    public double OffBelowW => Math.Max(
        Math.Max(options.ZeroShareOfPlateau * levels.PlateauW, 0.05 * levels.StepW),
        3 * levels.NoiseW / Math.Sqrt(20));

    /// <summary>Level of no-load: as given, or as shown before the first charge; null where neither. [W]</summary>
    public double? NoLoadW()
    {
        if (options.NoLoadPowerW is { } given)
        {
            return given;
        }

        var before = Enumerable.Range(0, charges.Count == 0 ? segments.Count : charges[0].From)
            .Where(i => !_burstSegments.Contains(i) && segments[i].MeanW > OffBelowW).ToList();
        return before.Count == 0 ? null : MedianW(before);
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
        if (from >= to)
        {
            return;
        }

        double? noLoad = NoLoadW();
        var base_ = Enumerable.Range(from, to - from).Where(i => !_burstSegments.Contains(i)).ToList();
        double maintenance = base_.Count > 0 ? segments[base_[0]].MeanW : 0;
        int lastTopUp = afterCharge ? Enumerable.Range(from, to - from).LastOrDefault(_burstSegments.Contains, -1) : -1;
        var mode = afterCharge ? Mode.Maintenance : Mode.NoLoad;
        for (int i = from; i < to; i++)
        {
            var s = segments[i];
            bool lasts = s.DurationS >= options.LeastChargeS || (i == from && i == to - 1);
            if (!_burstSegments.Contains(i) && (lasts || i == from))
            {
                mode = Of(s, afterCharge, i < lastTopUp, maintenance, noLoad, labels, i, to);
            }

            labels[i] = mode;
        }
    }

    private Mode Of(in PowerSegment s, bool afterCharge, bool topUpFollows, double maintenance, double? noLoad, Mode[] labels, int index, int to)
    {
        if (Math.Abs(s.MeanW) <= OffBelowW)
        {
            return meanVolt is > 1 and < LargestDcVolt ? Mode.NoLoad : Mode.Off;
        }

        if (!afterCharge)
        {
            return Mode.NoLoad;
        }

        if (topUpFollows)
        {
            return Mode.Maintenance;
        }

        if (noLoad is { } level)
        {
            double tolerance = Math.Max(0.15 * level, 3 * levels.NoiseW);
            return s.MeanW <= level + tolerance && (maintenance <= level + tolerance || Math.Abs(s.MeanW - level) < Math.Abs(s.MeanW - maintenance))
                ? Mode.NoLoad
                : Mode.Maintenance;
        }

        return s.MeanW < 0.5 * maintenance ? Mode.NoLoad : Mode.Maintenance;
    }

    private double MedianW(List<int> indexes)
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
}
