using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Finds what happened in a log from its power alone: change points by penalised likelihood on a bounded number of cells, then what each
/// stretch is, then each border again on the finest cells. Works in about n log n for n cells; pure.
/// <i>Source:</i> R. Killick, P. Fearnhead, I. A. Eckley, Journal of the American Statistical Association 107 (2012) 1590–1598.
/// </summary>
public static class ModeFinder
{
    /// <summary>Most cells among which change points are searched.</summary>
    private const int MostCoarseCells = 4096;

    /// <summary>Cells narrower than this only show single pulses, which are not modes. [s]</summary>
    private const double LeastCoarseCellS = 8;

    /// <summary>A border is looked for again among at least this many readings on either side, so that the levels beside it are
    /// known.</summary>
    private const double ReachReadings = 12;

    /// <summary>A threshold is set to several times the scatter of readings, or every row would be written. [1]</summary>
    private const double ScatterByThreshold = 1.0 / 6;

    /// <summary>Finds the modes.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="options">Parameters.</param>
    /// <returns>Modes that cover the envelope's span in order and without holes; none for an envelope that covers no time.</returns>
    public static ModeFinding Find(PowerEnvelope envelope, ModeOptions options)
    {
        var fine = PowerSeries.From(envelope);
        if (fine.Count == 0)
        {
            return new ModeFinding([], ["The log covers no time, so it has no modes."], new ModeThresholds(0, 0, 0, null, null, 0));
        }

        var coarseCells = Coarse(envelope, fine);
        var coarse = PowerSeries.From(coarseCells);
        var (step, apart) = PowerLevels.Step(envelope);

        // Held values do not scatter at all, but what goes to and fro by less than the threshold went unwritten.
        double unwritten = ScatterByThreshold * options.UnwrittenW;
        double scatter = PowerLevels.Noise(fine.PowerW);
        double noise = Math.Max(Math.Max(scatter, unwritten), step / Math.Sqrt(12));
        double interval = Math.Max(fine.WidthS / fine.ReadingsPerCell, options.LookS);
        double leastChargeS = Math.Max(options.LeastChargeS, 4 * interval);
        double plateau = PowerLevels.Sustained(fine, leastChargeS);
        var coarseCost =
            new SegmentCost(coarse.PowerW,
            Floor(Math.Max(Math.Max(PowerLevels.Noise(coarse.PowerW), unwritten), 2 * step / Math.Sqrt(12)), plateau),
            coarse.ReadingsPerCell);
        double observations = Math.Max(2, coarse.Count * coarse.ReadingsPerCell);

        // Level, slope, variance and place: four parameters for each further stretch.
        double penalty = 4 * options.PenaltyWeight * Math.Log(observations);
        var segments = PowerSegment.Of(coarse, coarseCost, ChangePoints.Find(coarseCost, penalty));
        var levels = new PowerLevels(noise, step, plateau, PowerLevels.Lowest(segments, leastChargeS, plateau), apart)
        {
            UnwrittenW = options.UnwrittenW,
        };

        var chargeFinder =
            new ChargeFinder(segments, levels, options, leastChargeS, PowerLevels.PulsedShare(envelope, coarseCells, interval));
        var charges = chargeFinder.Find();
        var idle = new IdleFinder(segments, levels, options, charges, chargeFinder.Bursts, fine.MeanVolt, leastChargeS);
        var labels = idle.Label();

        var refiner = new BorderRefiner(fine, Floor(noise, plateau), interval, noise, options.StepsLieBetweenRows);
        var modes =
            Spans(envelope, segments, labels, charges, refiner, Math.Max(4 * coarse.WidthS, ReachReadings * interval), leastChargeS);
        modes = SpanRules.WithWanderingEnds(modes, fine, interval, noise, options.UnwrittenW, chargeFinder.Doubts);
        modes = SpanRules.WithOpenStages(modes, segments, chargeFinder.OpenStages);
        modes = SpanRules.WithOpenStairs(modes, chargeFinder.OpenStairs, chargeFinder.Doubts);
        modes = new RestOfFall(fine, step, scatter, interval, options.NoLoadPowerW, options.UnwrittenW)
            .Applied(modes);

        // Held values show no base and no fall: what rises for a moment is held until it is written again.
        if (options.UnwrittenW == 0)
        {
            modes = new FallOfFewRows(fine, interval, noise, step).Applied(modes);
            modes = new LastLevel(fine, refiner, interval, Math.Max(step, 2 * scatter), options.TopUpShare)
                .Applied(modes);
        }

        modes = HiddenEnds.Noted(modes, fine, step, interval, chargeFinder.Doubts);

        double? maintenance = Level(segments, labels, Mode.Maintenance, chargeFinder.Bursts);
        var thresholds = new ModeThresholds(
            noise, step, plateau, Level(segments, labels, Mode.NoLoad, chargeFinder.Bursts), maintenance, idle.OffBelowW);
        return new ModeFinding(modes, [.. chargeFinder.Doubts, .. ModeDoubts.Of(envelope, modes, thresholds, interval, options.MeterZeroW)],
            thresholds)
        {
            Details = DetailFinder.Find(segments, charges, chargeFinder.Bursts, modes, levels.ChargeAboveW, chargeFinder.Holds),
        };
    }

    /// <summary>Mean level of a mode with its bursts left out; null where the log has none. [W]</summary>
    private static double? Level(IReadOnlyList<PowerSegment> segments, Mode[] labels, Mode mode, IReadOnlyList<SegmentRun> bursts)
    {
        double energy = 0;
        double time = 0;
        for (int i = 0; i < labels.Length; i++)
        {
            int index = i;
            if (labels[i] == mode && !bursts.Any(b => b.From <= index && index < b.To))
            {
                energy += segments[i].MeanW * segments[i].DurationS;
                time += segments[i].DurationS;
            }
        }

        return time > 0 ? energy / time : null;
    }

    private static PowerEnvelope Coarse(PowerEnvelope envelope, PowerSeries fine)
    {
        double width = Math.Max(fine.WidthS, Math.Min(LeastCoarseCellS, fine.Count * fine.WidthS / 128));
        int wanted = Math.Min(MostCoarseCells, Math.Max(1, (int)Math.Ceiling(envelope.Count * envelope.BucketWidthS / width)));
        return envelope.Reduced(wanted);
    }

    private static double Floor(double noiseW, double plateauW)
    {
        double least = Math.Max(0.5 * noiseW, 1e-6 * Math.Max(plateauW, 1e-3));
        return least * least;
    }

    /// <summary>Level of a charge near its start: the greatest of its first stretches, or its first where that is a flat stage of its own.
    /// [W]</summary>
    private static double HighW(IReadOnlyList<PowerSegment> segments, int index, double leastChargeS)
    {
        double high = segments[index].MeanW;
        if (segments[index].DurationS >= leastChargeS && segments[index].SdW < 0.1 * high)
        {
            return high;
        }

        for (int i = index; i < Math.Min(segments.Count, index + 3); i++)
        {
            high = Math.Max(high, segments[i].MeanW);
        }

        return high;
    }

    /// <summary>Level of waiting before a charge: the least of the last stretches before it, as the last may hold attempts.</summary>
    private static double LowW(IReadOnlyList<PowerSegment> segments, int index)
    {
        double low = segments[index - 1].MeanW;
        for (int i = Math.Max(0, index - 3); i < index; i++)
        {
            low = Math.Min(low, segments[i].MeanW);
        }

        return low;
    }

    private static List<ModeSpan> Spans(
        PowerEnvelope envelope, IReadOnlyList<PowerSegment> segments, Mode[] labels, List<SegmentRun> charges, BorderRefiner refiner,
            double reachS, double leastChargeS)
    {
        var chargeStarts = charges.Select(c => c.From).ToHashSet();
        double start = envelope.OriginS;
        double end = envelope.StartS(envelope.Count - 1) + envelope[envelope.Count - 1].CoveredS.Value;
        var spans = new List<ModeSpan>();
        double spanStart = start;
        double startU = 0;
        for (int i = 1; i <= segments.Count; i++)
        {
            if (i == segments.Count)
            {
                spans.Add(new ModeSpan(labels[i - 1], spanStart, end, startU, 0));
                break;
            }

            if (labels[i] == labels[i - 1] && !chargeStarts.Contains(i))
            {
                continue;
            }

            var left = segments[i - 1];
            var right = segments[i];
            double coarseBorder = 0.5 * (left.EndS + right.StartS);
            var border = refiner.Refine(
                Math.Max(Math.Max(left.StartS, spanStart), coarseBorder - reachS), Math.Min(right.EndS, coarseBorder + reachS),
                    coarseBorder, right.FirstW > left.LastW);
            if (labels[i] == Mode.Charge && right.MeanW > left.MeanW)
            {
                double low = LowW(segments, i);
                double high = HighW(segments, i, leastChargeS);
                bool afterBurst = left.MeanW > low + (0.25 * (high - low));
                border = refiner.BehindAttempts(afterBurst
                    ? Math.Max(left.StartS, spanStart)
                    : border.TimeS, low, high, leastChargeS, right.StartS) ?? border;
                border = refiner.WithFirstStage(border.TimeS, Math.Max(Math.Max(left.StartS, spanStart), border.TimeS - leastChargeS), low,
                    high) ?? border;
            }

            double time = Math.Clamp(border.TimeS, spanStart, end);
            spans.Add(new ModeSpan(labels[i - 1], spanStart, time, startU, border.UncertaintyS));
            spanStart = time;
            startU = border.UncertaintyS;
        }

        return WithoutSlivers(spans, leastChargeS);
    }

    /// <summary>A charge of which the finest cells left less than the shortest charge was an attempt: it joins what came before
    /// it.</summary>
    private static List<ModeSpan> WithoutSlivers(List<ModeSpan> spans, double leastChargeS)
    {
        var kept = new List<ModeSpan>();
        foreach (var span in spans)
        {
            bool sliver = span.DurationS <= 0 || (span.Mode == Mode.Charge && span.DurationS < leastChargeS && spans.Count > 1);
            var mode = sliver ? kept.Count > 0 ? kept[^1].Mode : Mode.NoLoad : span.Mode;
            if (kept.Count > 0 && mode == kept[^1].Mode && (mode != Mode.Charge || sliver))
            {
                kept[^1] = kept[^1] with { EndS = span.EndS, EndUncertaintyS = span.EndUncertaintyS };
            }
            else
            {
                kept.Add(span with { Mode = mode });
            }
        }

        return kept;
    }
}
