namespace ChargeAudit.Measuring.Counting;

/// <summary>Where a charge ends by its counter.</summary>
/// <param name="EndS">End of the charge. [s]</param>
/// <param name="UncertaintyS">Its standard uncertainty. [s]</param>
/// <param name="FullW">Power of the level that follows; null where a charge that went on falling would not have shown itself, and the
/// end lies anywhere up to <paramref name="RemovedS"/>. [W]</param>
/// <param name="RemovedS">Where the full device's level ends; the end of the stretch where it goes on. [s]</param>
/// <param name="RemovedUncertaintyS">Its standard uncertainty; zero at the end of the stretch. [s]</param>
/// <param name="AfterW">Power after that; null where the level goes on to the end. [W]</param>
/// <param name="IsLow">Whether power is low at the end.</param>
internal readonly record struct CounterEnd(double EndS, double UncertaintyS, double? FullW, double RemovedS, double RemovedUncertaintyS,
    double? AfterW, bool IsLow = true);

/// <summary>
/// Finds the end of a charge in a counter's band. A charge that fills up falls, and a fall can be hidden in a straight line only as long as
/// it leaves the line by less than the band is wide: power P that falls at a rate λ leaves it by P λ L²/8 after a time L. What stays
/// straight for much longer is level: the full device, or the waiting charger. Where nothing is level for long enough, the counter cannot
/// tell, and both readings are kept. Pure.
/// </summary>
internal sealed class CounterTail
{
    /// <summary>What would leave the band by less than this many of its widths, if it fell on, may still fall; the last line of all, and
    /// one before it. [1]</summary>
    private const double MayBeLevel = 2.5;
    private const double ClearlyLevel = 5;

    /// <summary>So many short lines may lie between two levels. [1]</summary>
    private const int MostBetween = 3;

    /// <summary>A charge ends below this share of its greatest power. [1]</summary>
    private const double TailShare = 0.6;

    /// <summary>A battery that still draws more than this share is not full. [1]</summary>
    private const double LowShare = 0.3;

    /// <summary>How fast power falls is told by a fall to this part. [1]</summary>
    private const double FallForRate = 1.4;

    /// <summary>The device was taken off where power falls to less than this part. [1]</summary>
    private const double TakenOff = 0.8;

    /// <summary>Power that rises by more than this factor for longer is charged on with; a level goes to and fro by less. [1],
    /// [s]</summary>
    private const double Rises = 1.5;
    private const double Stays = 1.3;
    private const double LongRiseS = 300;

    /// <summary>So many lines of a fall tell its rate, to these factors. [1]</summary>
    private const int LinesForRate = 3;
    private static readonly double[] RatesTried = [0.5, 1, 2];

    /// <summary>A level is looked for in a band of a step, doubled so often at most, and of this share of the charge's energy.
    /// [1]</summary>
    private const int Doublings = 6;
    private const double MostShare = 0.03;

    /// <summary>No power is less, where it is divided by. [W]</summary>
    private const double LeastW = 1e-4;

    /// <summary>Greatest power is kept up for so long, and by this many steps. [s], [1]</summary>
    private const double PlateauS = 60;
    private const double PlateauSteps = 3;

    /// <summary>A level lasts so long, over this many readings. [s], [1]</summary>
    private const int LeastReadings = 5;
    private const double LeastLevelS = 120;

    /// <summary>What waits as another log shows it, with room for its uncertainty. [1]</summary>
    private const double WaitingRoom = 1.1;

    private readonly CounterBand _band;
    private readonly List<CounterLine> _lines;
    private readonly int _plateau;
    private readonly double? _waitingW;

    private CounterTail(CounterBand band, List<CounterLine> lines, int plateau, double? waitingW) =>
        (_band, _lines, _plateau, _waitingW) = (band, lines, plateau, waitingW);

    /// <summary>The end of the one charge in a stretch; null where the counter shows too little of it to tell.</summary>
    /// <param name="band">Band of the stretch from the start of the charge to the next one, or the end of the log.</param>
    /// <param name="waitingW">What the waiting charger takes, where another log shows it. [W]</param>
    public static CounterEnd? Of(CounterBand band, double? waitingW)
    {
        var lines = band.Lines();
        double greatestW = lines.Where(l => IsLong(l, band.StepJ)).Select(l => l.PowerW).DefaultIfEmpty(0).Max();
        int plateau = lines.FindLastIndex(l => l.PowerW >= TailShare * greatestW && IsLong(l, band.StepJ));
        if (plateau < 0)
        {
            return null;
        }

        for (int i = lines.Count - 1; i > plateau; i--)
        {
            if (lines[i].LengthS > LongRiseS && lines[i].PowerW > Rises * lines[i - 1].PowerW && IsLong(lines[i - 1], band.StepJ))
            {
                plateau = i;
            }
        }

        return plateau == lines.Count - 1 ? null : new CounterTail(band, lines, plateau, waitingW).End();
    }

    private static bool IsLong(in CounterLine line, double stepJ) =>
        line.LengthS >= PlateauS && line.EnergyJ >= PlateauSteps * stepJ;

    private CounterEnd End()
    {
        int first = _lines[_plateau].To;
        double[] widths = Widths();
        foreach (double steps in widths)
        {
            var tail = steps == 1 ? _lines[(_plateau + 1)..] : _band.Lines(first, steps);
            int level = FirstLevel(tail, steps);
            if (level < 0)
            {
                continue;
            }

            // What is found may be the charger that waits; a full device that goes to and fro shows in a wider band before it.
            int to = tail[level].From;
            foreach (double wider in widths.Where(w => w >= steps && to > first))
            {
                var before = _band.LongestTo(to, wider, first: first);
                if (before.PowerW > tail[level].PowerW / TakenOff && Leaves(before, wider) >= ClearlyLevel)
                {
                    return Sure([before, .. tail.Skip(level)], 0, wider, steps);
                }
            }

            return Sure(tail, level, steps, steps);
        }

        return Open();
    }

    // Of the band, in steps: one, and twice as wide each time as far as the charge's energy allows.
    private double[] Widths()
    {
        double mostJ = MostShare * _lines.Take(_plateau + 1).Sum(l => l.EnergyJ);
        return [1, .. Enumerable.Range(1, Doublings).Select(n => Math.ScaleB(1, n)).TakeWhile(w => w * _band.StepJ <= mostJ)];
    }

    // What is charged on with later was not an end.
    private static bool StaysLow(List<CounterLine> tail, int level) =>
        tail.Skip(level + 1).All(l => l.PowerW <= Stays * tail[level].PowerW || l.LengthS <= LongRiseS);

    // From the end back: the last line that is level, and the one before it where that is clearly level too.
    private int FirstLevel(List<CounterLine> tail, double steps)
    {
        int first = tail.FindLastIndex(l => Leaves(l, steps) >= MayBeLevel);
        if (first < 0 || !StaysLow(tail, first))
        {
            return -1;
        }

        for (int i = first - 1; i >= 0 && i >= first - MostBetween; i--)
        {
            if (Leaves(tail[i], steps) >= ClearlyLevel && StaysLow(tail, i))
            {
                first = i;
            }
        }

        return first;
    }

    // By how many widths of the band power would leave a line if it fell on as before, or if it fell to the line's mean without a step.
    private double Leaves(in CounterLine level, double steps)
    {
        // Few readings lie on one line whatever power does.
        if (level.LengthS < LeastLevelS || level.To - level.From < LeastReadings)
        {
            return 0;
        }

        int before = Before(level);
        double falls = before > _plateau ? FallRate(before) : 0;
        double fell = Rate(before, level);
        return level.EnergyJ * level.LengthS * Math.Max(falls, fell) / (8 * steps * _band.StepJ);
    }

    // How fast power falls from a line to another, as a rate; the first part of a charge stays high to its end. [1/s]
    private double Rate(int before, in CounterLine line)
    {
        var from = _lines[before];
        double awayS = line.MiddleS - (before == _plateau ? from.EndS : from.MiddleS);
        return from.PowerW > line.PowerW && awayS > 0 ? Math.Log(from.PowerW / Math.Max(line.PowerW, LeastW)) / awayS : 0;
    }

    // How fast power fell before, as a rate. [1/s]
    private double FallRate(int before)
    {
        var line = _lines[before];
        int higher = before > 0 ? _lines.FindLastIndex(before - 1, l => l.PowerW >= FallForRate * line.PowerW) : -1;
        higher = Math.Max(higher, Math.Min(before, _plateau));
        return Rate(higher, line);
    }

    // What a line's power has fallen to at a later time; a line has that of its middle. [W]
    private double FallenW(int before, double timeS) => before > _plateau
        ? _lines[before].PowerW * Math.Exp(-FallRate(before) * Math.Max(0, timeS - _lines[before].MiddleS))
        : _lines[before].PowerW;

    private CounterEnd Sure(List<CounterLine> tail, int first, double steps, double stepsAfter)
    {
        var level = tail[first];
        var (endS, u) = EndBefore(level, steps);

        // The device is gone from where power stays below its level.
        int stays = tail.FindLastIndex(l => l.PowerW >= TakenOff * level.PowerW && l.LengthS >= LeastLevelS);
        int after = tail.FindIndex(Math.Max(first, stays) + 1, l => l.LengthS >= LeastLevelS);
        if (after < 0)
        {
            return new CounterEnd(endS, u, level.PowerW, tail[^1].EndS, 0, null);
        }

        var (removedS, removedU) = Border(tail[after], level.PowerW, 0, false, stepsAfter);
        return new CounterEnd(endS, u, level.PowerW, Math.Max(endS, removedS), removedU, tail[after].PowerW);
    }

    // Up to when what comes before a line may be hidden in it. [s]
    private double LatestS(in CounterLine line)
    {
        var (timeS, u) = EndBefore(line, 1);
        return timeS + (Math.Sqrt(3) * u);
    }

    // The border between a fall, or the charge's first part, and a line.
    private (double TimeS, double UncertaintyS) EndBefore(in CounterLine line, double steps)
    {
        int before = Before(line);
        double rate = before - _plateau >= LinesForRate ? FallRate(before) : 0;
        return Border(line, FallenW(before, line.StartS), rate, before > _plateau, steps);
    }

    // The last of the narrow lines that begins before a line.
    private int Before(in CounterLine line)
    {
        int from = line.From;
        return _lines.FindLastIndex(l => l.From < from);
    }

    // A line begins as early as the band lets it. The power before it may be hidden in it for longer: a step until it has left the band,
    // a fall that meets the level and goes below it until it has left the band on the other side.
    private (double TimeS, double UncertaintyS) Border(in CounterLine level, double beforeW, double rate, bool falls, double steps)
    {
        double earliestS = level.From > 0 ? _band.TimeS(level.From - 1) : level.StartS;
        double widthJ = steps * _band.StepJ;
        double overW = beforeW - level.PowerW;
        double hiddenS = !falls ? widthJ / Math.Max(LeastW, Math.Abs(overW))
            : rate > 0 ? RatesTried.Max(r => HiddenS(overW, r * rate * beforeW, widthJ))
            : (2 + (2 * Math.Sqrt(2))) * widthJ / Math.Max(LeastW, Math.Abs(overW));
        double latestS = level.StartS + Math.Min(hiddenS, 0.5 * level.LengthS);
        return (0.5 * (earliestS + latestS), (latestS - earliestS) / Math.Sqrt(12));
    }

    // Until P t − R t²/2 leaves the band, P the power above the level and R its fall per second. The worst R, where nothing tells it, is
    // that which just stays within the band before it meets the level.
    private static double HiddenS(double overW, double fallWPerS, double widthJ)
    {
        double meets = (overW * overW) - (2 * fallWPerS * widthJ);
        return overW > 0 && meets > 0
            ? (overW - Math.Sqrt(meets)) / fallWPerS
            : (overW + Math.Sqrt((overW * overW) + (2 * fallWPerS * widthJ))) / fallWPerS;
    }

    // Nothing is level for long enough. The last line may be the full device or still the fall; where it is lower than the one before, it
    // may be the waiting charger, and the one before the full device.
    private CounterEnd Open()
    {
        var last = _lines[^1];
        bool isLow = last.PowerW < LowShare * _lines[_plateau].PowerW;
        var waiting = _waitingW is { } known ? _band.LongestTo(_band.Count, 1, WaitingRoom * known) : default;
        if (waiting.From > _lines[_plateau].To && waiting.LengthS >= LeastLevelS)
        {
            int before = Math.Max(_plateau + 1, _lines.FindLastIndex(l => l.EndS <= waiting.StartS));
            double fromS = Math.Min(_lines[before].StartS, waiting.StartS);
            return new CounterEnd(fromS, 0, null, LatestS(waiting), 0, waiting.PowerW, isLow);
        }

        int may = _lines.Count - 2;
        return may > _plateau && last.PowerW < TakenOff * _lines[may].PowerW
            ? new CounterEnd(_lines[may].StartS, 0, null, LatestS(last), 0, last.PowerW, isLow)
            : new CounterEnd(last.StartS, 0, null, last.EndS, 0, null, isLow);
    }
}
