namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Pieces of a base that go on where the one before left off.</summary>
/// <param name="From">First piece.</param>
/// <param name="To">Piece after the last.</param>
/// <param name="Line">One line through all of them.</param>
internal readonly record struct JoinedPieces(int From, int To, PowerSegment Line);

/// <summary>
/// Tells whether and where power falls like that of a battery that fills up: pieces of the base are put together as far as the fall goes on
/// without a step, so that it stands out of the scatter. Pure.
/// </summary>
internal sealed class ChargeFalls(IReadOnlyList<PowerSegment> segments, PowerLevels levels, SegmentMeasures measures, double leastChargeS)
{
    /// <summary>Power that falls slower than this share of the plateau in an hour is flat: thermal drift, not a battery filling up.
    /// [1/h]</summary>
    private const double FlatSharePerHour = 0.03;

    /// <summary>Likewise as a share of its own level, but no less than this share of the plateau. [1/h]</summary>
    private const double OwnSharePerHour = 0.08;
    private const double LeastSharePerHour = 0.012;

    /// <summary>A fall of less than this share of the step of the readings is not seen. [1]</summary>
    private const double StepShare = 0.25;

    /// <summary>Likewise of the change that goes unwritten. [1]</summary>
    private const double UnwrittenShare = 0.5;

    /// <summary>A flat stretch above this share of its charge's own level is part of the charge. [1]</summary>
    private const double IdleShare = 0.6;

    /// <summary>A step smaller than this share of the level, or than this share of the smaller fall beside it, does not end a fall.
    /// [1]</summary>
    private const double SameLevelShare = 0.02;
    private const double StepByFall = 0.25;
    private const double StepByError = 4;
    private const double MostStepShare = 0.1;

    /// <summary>What falls by this share of its level in an hour is steep; steep pieces belong together over a step of this share of the
    /// level. [1/h], [1]</summary>
    private const double SteepSharePerHour = 1;
    private const double MostSteepStep = 0.25;

    /// <summary>A steep fall is over where a long stretch follows that falls or rises by less than this share of its slope, even without a
    /// step between them. [1]</summary>
    private const double FlatBesideSteep = 0.05;

    /// <summary>A fall of which more than this share is made good in what follows was none. [1]</summary>
    private const double MostComeBackShare = 0.5;
    private const double LeastAfterS = 300;

    /// <summary>What ranges over less than this share of the fall before it is level. [1]</summary>
    private const double LevelShare = 0.2;

    /// <summary>A fall has clearly stopped where less than this share of what it would have gone on to fall is left. [1]</summary>
    private const double StoppedShare = 0.33;

    /// <summary>One line fits several stretches if it scatters no more than by this multiple of their own scatter and this share of the
    /// level. [1]</summary>
    private const double OneLineExcess = 1.5;
    private const double OneLineShare = 0.003;

    /// <summary>The stretches of a fall fall by at least this share of what the line through all of them does. [1]</summary>
    private const double LeastOwnFall = 0.33;
    private const double ClearError = 3;

    /// <summary>Whether power is low beside a charge of the given level and does not fall.</summary>
    public bool IsIdle(in PowerSegment s, double chargeW) => IsLow(s, chargeW) && !FallsWithin(s, chargeW);

    /// <summary>Whether power is low beside a charge of the given level.</summary>
    public static bool IsLow(in PowerSegment s, double chargeW) => s.MeanW < IdleShare * chargeW;

    /// <summary>Whether a stretch falls faster than what drifts, and clear of its scatter.</summary>
    public bool FallsWithin(in PowerSegment s, double chargeW)
    {
        // The scatter about a line through few cells is itself little known.
        double error = s.DropErrorW * (1 + (8.0 / Math.Max(1, s.To - s.From - 2)));
        double flatWPerH = Math.Clamp(OwnSharePerHour * s.MeanW, LeastSharePerHour * chargeW, FlatSharePerHour * chargeW);
        return s.DurationS >= leastChargeS
            && s.DropW > Math.Max(Math.Max(5 * error, StepShare * levels.StepW), UnwrittenShare * levels.UnwrittenW)
            && s.DropW / (s.DurationS / 3600) > flatWPerH;
    }

    /// <summary>Pieces put together as far as each goes on where the one before left off, with one line through all.</summary>
    public List<JoinedPieces> Joined(List<BasePiece> pieces)
    {
        var falls = new List<JoinedPieces>();
        int from = 0;
        for (int to = 1; to <= pieces.Count; to++)
        {
            if (to == pieces.Count || !GoesOn(segments[pieces[to - 1].Core], segments[pieces[to].Core]))
            {
                falls.Add(new JoinedPieces(from, to, Pooled(pieces, from, to)));
                from = to;
            }
        }

        return falls;
    }

    /// <summary>
    /// Whether most of a fall is made good in the time after it, as when a device's own load wanders: the median of what is drawn there is
    /// higher than where the fall ended, and near to where it, or what came before it, stood.
    /// </summary>
    public bool ComesBack(int next, int limit, in PowerSegment fall, double beforeW)
    {
        if (IsLevel(next, limit, fall.DropW))
        {
            return false;
        }

        double untilS = fall.EndS + Math.Max(fall.DurationS, LeastAfterS);
        int end = next;
        while (end < limit && segments[end].StartS < untilS)
        {
            end++;
        }

        double seenS = end > next ? segments[end - 1].EndS - segments[next].StartS : 0;
        return seenS >= Math.Min(fall.DurationS, LeastAfterS)
            && Math.Max(beforeW, fall.FirstW) - measures.MedianW(Enumerable.Range(next, end - next)) < (1 - MostComeBackShare) * fall.DropW;
    }

    // A load that wanders goes on to do so. What is level from there on shows that the fall was the battery's, though it went below what
    // the full device draws.
    private bool IsLevel(int next, int limit, double dropW)
    {
        double least = double.PositiveInfinity;
        double most = double.NegativeInfinity;
        double levelS = 0;
        for (int i = next; i < limit; i++)
        {
            var s = segments[i];
            if (s.DurationS >= leastChargeS)
            {
                least = Math.Min(least, Math.Min(s.FirstW, s.LastW) - s.SdW);
                most = Math.Max(most, Math.Max(s.FirstW, s.LastW) + s.SdW);
                levelS += s.DurationS;
            }
        }

        return levelS >= LeastAfterS && most - least < LevelShare * dropW;
    }

    /// <summary>Whether the second of two stretches goes on where the first left off.</summary>
    private static bool GoesOn(in PowerSegment first, in PowerSegment second)
    {
        if (IsSteep(first) && second.DurationS >= LeastAfterS
            && Math.Abs(second.DropW) / second.DurationS < FlatBesideSteep * first.DropW / first.DurationS)
        {
            return false;
        }

        double end = BurstFlattening.EndW(first);
        double start = BurstFlattening.StartW(second);
        double fall = Math.Min(first.DropW, second.DropW);

        // Hidden by a burst, the fall may have gone on.
        double hidden = Math.Max(0, first.DropW) / first.DurationS * Math.Max(0, second.StartS - first.EndS);
        double step = Math.Max(Math.Max(start - end, end - hidden - start), 0);
        double error = Math.Sqrt(EndVarianceW2(first) + EndVarianceW2(second));
        double allowed = Math.Min(StepByError * error, MostStepShare * Math.Abs(start));
        return StillFalls(first, second, end, start)
            || step <= Math.Max(allowed, Math.Max(SameLevelShare * Math.Abs(start), StepByFall * fall));
    }

    // A steep fall is cut into many short pieces where nothing scatters, and a burst's edges bend the lines beside it: pieces that both
    // fall as steeply are one fall.
    private static bool StillFalls(in PowerSegment first, in PowerSegment second, double endW, double startW) =>
        IsSteep(first) && IsSteep(second) && startW < endW
            && endW - startW <= Math.Min(Math.Max(first.DropW, second.DropW), MostSteepStep * endW);

    private static bool IsSteep(in PowerSegment s) =>
        BurstFlattening.HasKnownLine(s) && s.DropW > ClearError * s.DropErrorW
            && s.DropW / (s.DurationS / 3600) > SteepSharePerHour * s.MeanW;

    /// <summary>Variance of a line's value at one of its ends: four times that of the mean. [W²]</summary>
    private static double EndVarianceW2(in PowerSegment s) => 4 * s.SdW * s.SdW / (s.To - s.From);

    /// <summary>The piece at which a fall that runs into a flat stretch without a step has stopped; the end where it goes on to the
    /// end.</summary>
    public int StopOf(List<BasePiece> pieces, int from, int to, double level)
    {
        // A long level has a share in the charge's own level; low is measured against where the fall began.
        double high = Math.Max(level, Math.Min(segments[pieces[from].Core].FirstW, levels.PlateauW));
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
            if (IsIdle(rest, high) && OneLine(pieces, k, to, rest) && FallsWithin(Pooled(pieces, from, k), level)
                && rest.DropW + (2 * rest.DropErrorW) < StoppedShare * expected
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

    /// <summary>Whether the pieces fall themselves, and do not only lie lower one after the other, as flat levels with a step between them
    /// do.</summary>
    public bool FallsByItself(List<BasePiece> pieces, in JoinedPieces joined)
    {
        var (from, to, line) = joined;
        double clear = 0;
        double slope = 0;
        double weight = 0;
        for (int p = from; p < to; p++)
        {
            var s = segments[pieces[p].Core];
            double n = s.To - s.From;
            clear += BurstFlattening.HasKnownLine(s) && s.DropW > ClearError * s.DropErrorW ? s.DropW : 0;
            slope += s.DropW * n * n;
            weight += n * n * n;
        }

        var (first, last) = (segments[pieces[from].Core], segments[pieces[to - 1].Core]);
        return clear >= LeastOwnFall * (BurstFlattening.StartW(first) - BurstFlattening.EndW(last))
            || slope / weight >= LeastOwnFall * line.DropW / (line.To - line.From);
    }

    private PowerSegment Pooled(List<BasePiece> pieces, int from, int to) =>
        PowerSegment.Pooled(pieces.Skip(from).Take(to - from).Select(p => segments[p.Core]));
}
