namespace ChargeAudit.Analysis.Segmentation;

/// <summary>
/// Tells where a charge begins and ends within the time that it can take. It ends where the fall of its base is over: the base is what is drawn without the
/// bursts of the device's own load, put together over as many stretches as it goes on without a step, so that its fall stands out of the scatter.
/// </summary>
internal sealed class ChargeTrimmer(IReadOnlyList<PowerSegment> segments, PowerLevels levels, SegmentMeasures measures, ModeOptions options, double leastChargeS)
{
    /// <summary>Power that falls slower than this share of the plateau in an hour is flat: thermal drift, not a battery filling up. [1/h]</summary>
    private const double FlatSharePerHour = 0.03;

    /// <summary>Likewise as a share of its own level, but no less than this share of the plateau. [1/h]</summary>
    private const double OwnSharePerHour = 0.08;
    private const double LeastSharePerHour = 0.012;

    /// <summary>A fall of less than this share of the step of the readings is not seen. [1]</summary>
    private const double StepShare = 0.25;

    /// <summary>A flat stretch above this share of its charge's own level is part of the charge. [1]</summary>
    private const double IdleShare = 0.6;

    /// <summary>A step smaller than this share of the level, or than this share of the smaller fall beside it, does not end a fall. [1]</summary>
    private const double SameLevelShare = 0.02;
    private const double StepByFall = 0.25;
    private const double StepByError = 4;
    private const double MostStepShare = 0.1;

    /// <summary>A fall that is lost again by more than this share in what follows was none. [1]</summary>
    private const double MostComeBackShare = 0.5;
    private const double LeastAfterS = 300;

    /// <summary>A fall has clearly stopped where less than this share of what it would have gone on to fall is left. [1]</summary>
    private const double StoppedShare = 0.33;

    /// <summary>One line fits several stretches if it scatters no more than by this multiple of their own scatter and this share of the level. [1]</summary>
    private const double OneLineExcess = 1.5;
    private const double OneLineShare = 0.003;

    /// <summary>A stretch in which a burst hides the fall is no longer. [s]</summary>
    private const double LongestHiddenS = 600;

    /// <summary>Nothing longer is a burst. [s]</summary>
    public const double ShortBurstS = 900;

    /// <summary>The high part of a run without the flat stretches before it, and with the fall that follows it; and the bursts after that.</summary>
    /// <param name="run">The run.</param>
    /// <param name="limit">Segment at which another charge begins, or the number of segments.</param>
    public (SegmentRun Charge, IReadOnlyList<SegmentRun> Bursts) Trimmed(SegmentRun run, int limit)
    {
        double level = measures.LevelW(run);
        int from = run.From;
        while (from < run.To - 1 && segments[from].DurationS >= leastChargeS && segments[from].MeanW < IdleShare * level && !FallsWithin(segments[from], level))
        {
            from++;
        }

        var pieces = BurstFlattening.Base(segments, new SegmentRun(from, limit), ShortBurstS, options.TopUpShare * measures.EnergyJ(run));
        int last = LastOfFall(pieces, level);
        int to = pieces[last].To;
        var bursts = new List<SegmentRun>();
        for (int p = last + 1; p < pieces.Count; p++)
        {
            AddBursts(bursts, pieces[p]);
        }

        return (new SegmentRun(from, to), bursts);
    }

    /// <summary>Whether power is low beside a charge of the given level and does not fall.</summary>
    public bool IsIdle(in PowerSegment s, double chargeW) => IsLow(s, chargeW) && !FallsWithin(s, chargeW);

    private static bool IsLow(in PowerSegment s, double chargeW) => s.MeanW < IdleShare * chargeW;

    private bool FallsWithin(in PowerSegment s, double chargeW)
    {
        // The scatter about a line through few cells is itself little known.
        double error = s.DropErrorW * (1 + (8.0 / Math.Max(1, s.To - s.From - 2)));
        double flatWPerH = Math.Clamp(OwnSharePerHour * s.MeanW, LeastSharePerHour * chargeW, FlatSharePerHour * chargeW);
        return s.DurationS >= leastChargeS
            && s.DropW > Math.Max(5 * error, StepShare * levels.StepW)
            && s.DropW / (s.DurationS / 3600) > flatWPerH;
    }

    /// <summary>Last piece of the last fall; where nothing falls, the last that is not low; the first where there is none.</summary>
    private int LastOfFall(List<BasePiece> pieces, double chargeW)
    {
        var falls = Falls(pieces);

        // Flat and low is measured against where the last fall began, too: a long fall has a mean level of its own that says little.
        var levelW = new double[falls.Count];
        double highest = chargeW;
        for (int f = 0; f < falls.Count; f++)
        {
            levelW[f] = highest;
            highest = FallsWithin(falls[f].Line, chargeW) ? Math.Max(highest, Math.Min(falls[f].Line.FirstW, levels.PlateauW)) : highest;
        }

        for (int f = falls.Count - 1; f >= 0; f--)
        {
            var (from, to, line) = falls[f];
            bool low = IsLow(line, levelW[f]);
            if (!low || (FallsWithin(line, chargeW) && !ComesBack(pieces[to - 1].Core + 1, pieces[^1].To, line, from > 0 ? segments[pieces[from - 1].Core].MeanW : line.FirstW)))
            {
                return StillHigh(pieces, StopOf(pieces, from, to, chargeW) - 1);
            }
        }

        return 0;
    }

    /// <summary>Pieces put together as far as each goes on where the one before left off, with one line through all.</summary>
    private List<(int From, int To, PowerSegment Line)> Falls(List<BasePiece> pieces)
    {
        var falls = new List<(int From, int To, PowerSegment Line)>();
        int from = 0;
        for (int to = 1; to <= pieces.Count; to++)
        {
            if (to == pieces.Count || !GoesOn(segments[pieces[to - 1].Core], segments[pieces[to].Core]))
            {
                falls.Add((from, to, Pooled(pieces, from, to)));
                from = to;
            }
        }

        return falls;
    }

    /// <summary>Takes in short stretches after a fall that still lie near where it ended and clear of what comes later: a burst of the device's own load hid the fall in them.</summary>
    private int StillHigh(List<BasePiece> pieces, int last)
    {
        while (last + 2 < pieces.Count)
        {
            double before = segments[pieces[last].Core].LastW;
            var next = segments[pieces[last + 1].Core];
            double later = next.MeanW;
            for (int p = last + 2; p < pieces.Count && (p < last + 4 || segments[pieces[p].Core].StartS < next.EndS + ShortBurstS); p++)
            {
                later = Math.Min(later, segments[pieces[p].Core].MeanW);
            }

            if (next.DurationS > LongestHiddenS || next.MeanW < later + (0.6 * (before - later)) || before < later + (4 * levels.NoiseW))
            {
                break;
            }

            last++;
        }

        return last;
    }

    /// <summary>
    /// Whether most of a fall is made good in the time after it, as when a device's own load wanders: the median of what is drawn there is higher than
    /// where the fall ended, and near to where it, or what came before it, stood.
    /// </summary>
    private bool ComesBack(int next, int limit, in PowerSegment fall, double beforeW)
    {
        double untilS = fall.EndS + Math.Max(fall.DurationS, LeastAfterS);
        int end = next;
        while (end < limit && segments[end].StartS < untilS)
        {
            end++;
        }

        double seenS = end > next ? segments[end - 1].EndS - segments[next].StartS : 0;
        return seenS >= Math.Min(fall.DurationS, LeastAfterS) && Math.Max(beforeW, fall.FirstW) - measures.MedianW(Enumerable.Range(next, end - next)) < (1 - MostComeBackShare) * fall.DropW;
    }

    /// <summary>Whether the second of two stretches goes on where the first left off.</summary>
    private static bool GoesOn(in PowerSegment first, in PowerSegment second)
    {
        double end = BurstFlattening.EndW(first);
        double start = BurstFlattening.StartW(second);
        double fall = Math.Min(first.DropW, second.DropW);

        // Behind a burst the fall may have gone on.
        double hidden = Math.Max(0, first.DropW) / first.DurationS * Math.Max(0, second.StartS - first.EndS);
        double step = Math.Max(Math.Max(start - end, end - hidden - start), 0);
        double error = Math.Sqrt(EndVarianceW2(first) + EndVarianceW2(second));
        double allowed = Math.Min(StepByError * error, MostStepShare * Math.Abs(start));
        return step <= Math.Max(allowed, Math.Max(SameLevelShare * Math.Abs(start), StepByFall * fall));
    }

    /// <summary>Variance of a line's value at one of its ends: four times that of the mean. [W²]</summary>
    private static double EndVarianceW2(in PowerSegment s) => 4 * s.SdW * s.SdW / (s.To - s.From);

    /// <summary>The piece at which a fall that runs into a flat stretch without a step has stopped; the end where it goes on to the end.</summary>
    private int StopOf(List<BasePiece> pieces, int from, int to, double level)
    {
        for (int k = from + 1; k < to; k++)
        {
            var first = segments[pieces[k].Core];
            var rest = Pooled(pieces, k, to);
            int start = k - 1;
            while (start > from && segments[pieces[k - 1].Core].EndS - segments[pieces[start].Core].StartS < rest.DurationS)
            {
                start--;
            }

            var before = Pooled(pieces, start, k);
            double expected = before.DropW / before.DurationS * rest.DurationS;
            if (IsIdle(rest, level) && OneLine(pieces, k, to, rest) && FallsWithin(before, level) && rest.DropW + (2 * rest.DropErrorW) < StoppedShare * expected
                && first.DropW - (2 * first.DropErrorW) < StoppedShare * before.DropW / before.DurationS * first.DurationS)
            {
                return k;
            }
        }

        return to;
    }

    /// <summary>Whether one line fits pieces about as well as each has its own.</summary>
    private bool OneLine(List<BasePiece> pieces, int from, int to, in PowerSegment line)
    {
        double square = 0;
        double count = 0;
        for (int p = from; p < to; p++)
        {
            var s = segments[pieces[p].Core];
            square += (s.To - s.From) * s.SdW * s.SdW;
            count += s.To - s.From;
        }

        return line.SdW <= (OneLineExcess * Math.Sqrt(square / count)) + (OneLineShare * Math.Abs(line.MeanW));
    }

    private PowerSegment Pooled(List<BasePiece> pieces, int from, int to) => PowerSegment.Pooled(pieces.Skip(from).Take(to - from).Select(p => segments[p.Core]));

    private void AddBursts(List<SegmentRun> bursts, BasePiece piece)
    {
        foreach (var (from, to) in new[] { (piece.From, piece.Core), (piece.Core + 1, piece.To) })
        {
            for (int i = from; i < to; i++)
            {
                int first = i;
                while (i < to && segments[i].MeanW >= BurstAbove * segments[piece.Core].MeanW)
                {
                    i++;
                }

                if (i > first)
                {
                    bursts.Add(new SegmentRun(first, i));
                }
            }
        }
    }

    /// <summary>A rise to less than this multiple of what it stands on is not worth a name. [1]</summary>
    private const double BurstAbove = 1.15;
}
