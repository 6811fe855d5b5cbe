using ChargeAudit.Analysis.Integration;

namespace ChargeAudit.Analysis.Segmentation;

/// <summary>
/// Finds what happened in a log from its power alone: change points by penalised likelihood on a bounded number of cells, then what each stretch is,
/// then each border again on the finest cells. Works in about n log n for n cells; pure.
/// <i>Source:</i> R. Killick, P. Fearnhead, I. A. Eckley, Journal of the American Statistical Association 107 (2012) 1590–1598.
/// </summary>
public static class ModeFinder
{
    /// <summary>Most cells among which change points are searched.</summary>
    private const int MostCoarseCells = 4096;

    /// <summary>Cells narrower than this only show single pulses, which are no modes. [s]</summary>
    private const double LeastCoarseCellS = 8;

    /// <summary>Finds the modes.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="options">Parameters.</param>
    /// <returns>Modes that cover the envelope's span in order and without holes; none for an envelope that covers no time.</returns>
    public static ModeFinding Find(PowerEnvelope envelope, ModeOptions options)
    {
        var fine = PowerSeries.From(envelope);
        if (fine.Count == 0)
        {
            return new ModeFinding([], ["The log covers no time, so it has no modes."], new ModeThresholds(0, 0, 0, 0, null, null, 0, 0));
        }

        var coarse = PowerSeries.From(Coarse(envelope, fine));
        double step = PowerLevels.Step(envelope);
        double noise = Math.Max(PowerLevels.Noise(fine.PowerW), step / Math.Sqrt(12));
        double plateau = PowerLevels.Sustained(fine, options.LeastChargeS);
        var coarseCost = new SegmentCost(coarse.PowerW, Floor(PowerLevels.Noise(coarse.PowerW), plateau), coarse.ReadingsPerCell);
        double observations = Math.Max(2, coarse.Count * coarse.ReadingsPerCell);

        // Level, slope, variance and place: four parameters for each further stretch.
        double penalty = 4 * options.PenaltyWeight * Math.Log(observations);
        var segments = PowerSegment.Of(coarse, coarseCost, ChangePoints.Find(coarseCost, penalty));
        var levels = new PowerLevels(noise, step, plateau, PowerLevels.Lowest(segments, options.LeastChargeS));

        var chargeFinder = new ChargeFinder(segments, levels, options);
        var charges = chargeFinder.Find();
        var idle = new IdleFinder(segments, levels, options, charges, chargeFinder.Bursts, fine.MeanVolt);
        var labels = idle.Label();

        var fineCost = new SegmentCost(fine.PowerW, Floor(noise, plateau), fine.ReadingsPerCell);
        double interval = fine.WidthS / fine.ReadingsPerCell;
        var refiner = new BorderRefiner(fine, fineCost, interval, noise);
        var modes = Spans(envelope, segments, labels, charges, refiner, coarse.WidthS);

        var thresholds = new ModeThresholds(
            noise, step, plateau, levels.LowestW, idle.NoLoadW(), null, levels.ChargeAboveW, idle.OffBelowW);
        return new ModeFinding(modes, chargeFinder.Doubts, thresholds);
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

    private static List<ModeSpan> Spans(
        PowerEnvelope envelope, IReadOnlyList<PowerSegment> segments, Mode[] labels, List<SegmentRun> charges, BorderRefiner refiner, double coarseS)
    {
        var chargeStarts = charges.Select(c => c.From).ToHashSet();
        double start = envelope.OriginS;
        double end = envelope.StartS(envelope.Count);
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
            double reach = Math.Max(4 * coarseS, 0);
            double coarseBorder = 0.5 * (left.EndS + right.StartS);
            var border = refiner.Refine(
                Math.Max(Math.Max(left.StartS, spanStart), coarseBorder - reach), Math.Min(right.EndS, coarseBorder + reach), coarseBorder, right.FirstW > left.LastW);
            double time = Math.Clamp(border.TimeS, spanStart, end);
            spans.Add(new ModeSpan(labels[i - 1], spanStart, time, startU, border.UncertaintyS));
            spanStart = time;
            startU = border.UncertaintyS;
        }

        return spans;
    }
}
