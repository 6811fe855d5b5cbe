namespace ChargeAudit.Measuring.Counting;

/// <summary>
/// Finds the end of a charge in a counter's band. A charge that fills up falls, and a fall can be hidden in a straight line only as long as
/// it leaves the line by less than the band is wide: power P that falls at a rate λ leaves it by P λ L²/8 after a time L. What stays
/// straight for much longer is level: the full device, or the waiting charger. Where nothing is level for long enough, the counter cannot
/// tell, and both readings are kept. Pure.
/// </summary>
internal sealed class CounterTail
{
    /// <summary>What would leave the band by less than this many of its widths, if it went on falling, may still fall: the first limit for
    /// the last line of all, the second for one before it. [1]</summary>
    private const double MayBeLevel = 2.5;
    private const double ClearlyLevel = CounterFall.ClearlyLevel;

    /// <summary>So many short lines may lie between two levels. [1]</summary>
    private const int MostBetween = 3;

    /// <summary>A charge ends below this share of its greatest power. [1]</summary>
    private const double TailShare = 0.6;

    /// <summary>A battery that still draws more than this share is not full. [1]</summary>
    private const double LowShare = 0.3;

    /// <summary>The device was taken off where power falls to less than this share. [1]</summary>
    private const double TakenOff = CounterFall.TakenOff;

    /// <summary>Where power rises by more than this factor for longer than this, above the low share, charging goes on: a charger may take
    /// more for a full device than the fall went down to. A level goes to and fro by less. [1], [s]</summary>
    private const double Rises = 1.5;
    private const double Stays = 1.3;
    private const double LongRiseS = 300;

    /// <summary>A level is looked for in a band one step wide, doubled at most so often, and no wider than this share of the charge's
    /// energy. [1]</summary>
    private const int Doublings = 6;
    private const double MostShare = 0.03;

    /// <summary>So many lines whose powers differ by no more than this share stand at one level. [1]</summary>
    private const int LeastParts = 3;
    private const double OneLevel = 0.05;

    /// <summary>By so much longer than a fall would be hidden. [1]</summary>
    private const double MoreThanHidden = 1.2;

    /// <summary>Greatest power is kept up for so long, and by this many steps. [s], [1]</summary>
    private const double PlateauS = 60;
    private const double PlateauSteps = 3;

    /// <summary>Factor on the waiting charger's power as another log shows it, as room for its uncertainty. [1]</summary>
    private const double WaitingRoom = 1.1;

    private readonly CounterBand _band;
    private readonly List<CounterLine> _lines;
    private readonly int _plateau;
    private readonly double? _waitingW;
    private readonly CounterWaiting _waiting;
    private readonly CounterFall _fall;
    private readonly CounterReturns _returns;

    private CounterTail(CounterBand band, List<CounterLine> lines, int plateau, double? waitingW, WaitingLevels levels)
    {
        (_band, _lines, _plateau, _waitingW) = (band, lines, plateau, waitingW);
        _fall = new CounterFall(band, lines, plateau);
        _returns = new CounterReturns(band, lines, plateau);
        _waiting = new CounterWaiting(band, lines, _returns, levels);
    }

    /// <summary>The end of the one charge in a stretch; null where the counter shows too little of it to tell.</summary>
    /// <param name="band">Band of the stretch from the start of the charge to the next one, or the end of the log.</param>
    /// <param name="waitingW">What the waiting charger takes, where another log shows it. [W]</param>
    /// <param name="levels">What it takes by any log, this one too.</param>
    public static CounterEnd? Of(CounterBand band, double? waitingW, WaitingLevels levels)
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
            if (lines[i].LengthS > LongRiseS && lines[i].PowerW > Math.Max(Rises * lines[i - 1].PowerW, LowShare * greatestW)
                && IsLong(lines[i - 1], band.StepJ))
            {
                plateau = i;
            }
        }

        return plateau == lines.Count - 1 ? null : new CounterTail(band, lines, plateau, waitingW, levels).End();
    }

    private static bool IsLong(in CounterLine line, double stepJ) =>
        line.LengthS >= PlateauS && line.EnergyJ >= PlateauSteps * stepJ;

    private CounterEnd End()
    {
        int first = _lines[_plateau].To;
        double[] widths = Widths();
        foreach (double steps in widths)
        {
            var tail = steps == 1 ? Levels(_lines[(_plateau + 1)..]) : _band.Lines(first, steps);
            var (level, doubted) = FirstLevel(tail, steps);
            if (level < 0 && steps == 1 && ComesBack() is { } end)
            {
                return end;
            }

            if (level < 0)
            {
                continue;
            }

            if (doubted >= 0)
            {
                return new CounterEnd(Returned(tail[doubted]).StartS, 0, null, _fall.LatestS(tail[level]), 0, tail[level].PowerW);
            }

            var (line, width) = Whole(tail[level], steps, widths, first);

            // What is found may be the charger that waits; a full device that goes to and fro shows in a wider band before it.
            bool mayWait = _waiting.MayBe(line);
            foreach (double wider in widths.Where(w => mayWait && w >= width && line.From > first))
            {
                var before = _band.LongestTo(line.From, wider, first: first);
                if (before.PowerW > line.PowerW / TakenOff && _fall.Leaves(before, wider) >= ClearlyLevel && !_fall.FallsOn(before))
                {
                    var sure = Sure([Returned(before), line, .. tail.Skip(level + 1)], 0, wider, width);
                    return wider > width ? sure with { Doubted = (before.StartS, _fall.LatestS(line)) } : sure;
                }
            }

            return Sure([Returned(line), .. tail.Skip(level + 1)], 0, width, steps);
        }

        return Open();
    }

    // No line is level, but power comes back to one level again and again. What follows it may be the waiting charger.
    private CounterEnd? ComesBack()
    {
        if (_returns.Level(_lines.Count) is { } level)
        {
            return Sure([level, .. _lines.Where(l => l.From >= level.To)], 0, 1, 1);
        }

        int to = _lines.FindLastIndex(l => !_waiting.MayBe(l)) + 1;
        return to < _lines.Count && _returns.Level(to) is { } before
            ? Sure([before, .. _lines.Where(l => l.From >= before.To)], 0, 1, 1)
            : null;
    }

    // A full device comes back to its level after every rise: the level begins where it first stood there, or lower already, as a device
    // that takes more later on, for its screen or for itself, was full before.
    private CounterLine Returned(CounterLine level)
    {
        if (_returns.Lowest(level.StartS, level.EndS) is not var (line, powerW))
        {
            return level;
        }

        int first = _returns.First(line, powerW, _lines[line].MostW).Line;
        if (Lower(first, Math.Max(powerW, level.PowerW)) is { } lower)
        {
            powerW = _lines[lower].PowerW;
            first = _returns.First(lower, powerW, _lines[lower].MostW).Line;
        }

        return _lines[first].From >= level.From ? level : level with
        {
            From = _lines[first].From,
            StartS = _lines[first].StartS,
            PowerW = powerW,
        };
    }

    // The lowest line before this one that is level and lower, where power does not rise far above it for long until then.
    private int? Lower(int line, double powerW)
    {
        int? lowest = null;
        double belowW = TakenOff * powerW;
        for (int i = line - 1; i > _plateau && (_lines[i].PowerW <= Stays * powerW || _lines[i].LengthS <= LongRiseS); i--)
        {
            if (_returns.Tells(_lines[i]) && _lines[i].PowerW < belowW && !_fall.FallsOn(_lines[i]))
            {
                (lowest, belowW) = (i, _lines[i].PowerW);
            }
        }

        return lowest;
    }

    // A level that goes to and fro fits a narrow band for a part of its time only. A wider band hides a fall for longer, too, by the root
    // of its width: what it makes longer by more is the level's.
    private (CounterLine Line, double Steps) Whole(CounterLine line, double steps, double[] widths, int first)
    {
        foreach (double wider in widths.Where(w => w > steps))
        {
            var whole = _band.LongestTo(line.To, wider, first: first);
            bool alike = whole.PowerW >= TakenOff * line.PowerW && line.PowerW >= TakenOff * whole.PowerW;
            double hiddenS = Math.Max(line.LengthS, Math.Sqrt(wider / steps) * line.PartS);
            if (alike && whole.LengthS > MoreThanHidden * hiddenS && _fall.Leaves(whole, wider) >= ClearlyLevel && !_fall.FallsOn(whole))
            {
                (line, steps) = (whole, wider);
            }
        }

        return (line, steps);
    }

    // Of the band, in steps: one, and twice as wide each time as far as the charge's energy allows.
    private double[] Widths()
    {
        double mostJ = MostShare * _lines.Take(_plateau + 1).Sum(l => l.EnergyJ);
        return [1, .. Enumerable.Range(1, Doublings).Select(n => Math.ScaleB(1, n)).TakeWhile(w => w * _band.StepJ <= mostJ)];
    }

    // Where charging goes on later, this was not the end.
    private static bool StaysLow(List<CounterLine> tail, int level) =>
        tail.Skip(level + 1).All(l => l.PowerW <= Stays * tail[level].PowerW || l.LengthS <= LongRiseS);

    // From the end back: the last line that is level, and where that may be the waiting charger's the one before it that is clearly level.
    // Doubted is one that the device draws less behind than there.
    private (int Level, int Doubted) FirstLevel(List<CounterLine> tail, double steps)
    {
        int last = tail.FindLastIndex(l => _fall.Leaves(l, steps) >= MayBeLevel && !_fall.FallsOn(l));
        bool lower = last >= 0 && tail[^1].PowerW < TakenOff * tail[last].PowerW;
        if (last < 0 || !StaysLow(tail, last) || (lower && (_waiting.StaysBelow(tail[last]) || !MayBeFull(tail[last]))))
        {
            return (-1, -1);
        }

        int doubted = -1;
        for (int i = last - 1; i >= 0 && i >= last - MostBetween && _waiting.MayBe(tail[last]); i--)
        {
            if (_fall.Leaves(tail[i], steps) < ClearlyLevel || !StaysLow(tail, i) || _fall.FallsOn(tail[i]) || !MayBeFull(tail[i]))
            {
                continue;
            }

            if (!_waiting.StaysBelow(tail[i]))
            {
                return (i, -1);
            }

            doubted = i;
        }

        return (last, doubted);
    }

    // Where nothing tells what the waiting charger takes, a level that is followed by a lower one may be a stage of the charge.
    private bool MayBeFull(in CounterLine line) => _waiting.IsKnown || line.PowerW <= LowShare * _lines[_plateau].PowerW;

    // Lines one after the other at the same power are one level that no single line fits.
    private static List<CounterLine> Levels(List<CounterLine> lines)
    {
        var levels = new List<CounterLine>();
        for (int i = 0, to; i < lines.Count; i = to)
        {
            to = i + 1;
            while (to < lines.Count && Math.Abs(lines[to].PowerW - lines[i].PowerW) <= OneLevel * lines[i].PowerW)
            {
                to++;
            }

            var parts = lines[i..to];
            if (parts.Count < LeastParts || parts[^1].EndS - parts[0].StartS < LongRiseS
                || parts.Max(l => l.LengthS) < CounterFall.LeastLevelS)
            {
                levels.AddRange(parts);
                continue;
            }

            levels.Add(new CounterLine(parts[0].From, parts[^1].To, parts[0].StartS, parts[^1].EndS,
                parts.Sum(l => l.EnergyJ) / parts.Sum(l => l.LengthS), parts.Max(l => l.MostW))
            {
                ApartS = parts[^1].MiddleS - parts[0].MiddleS,
                PartS = parts.Max(l => l.LengthS),
                LeastW = parts.Min(l => l.LeastW),
            });
        }

        return levels;
    }

    private CounterEnd Sure(List<CounterLine> tail, int first, double steps, double stepsAfter)
    {
        var level = tail[first];
        var (endS, u) = _fall.EndBefore(level, steps);

        // The device is gone from where power stays below its level.
        int stays = tail.FindLastIndex(l => l.PowerW >= TakenOff * level.PowerW && l.LengthS >= CounterFall.LeastLevelS);
        int after = tail.FindIndex(Math.Max(first, stays) + 1, l => l.LengthS >= CounterFall.LeastLevelS);
        if (after < 0)
        {
            // Taken off at the very end, the device would not have shown it.
            double hiddenS = stepsAfter * _band.StepJ / Math.Max(CounterFall.LeastW, level.PowerW);
            return new CounterEnd(endS, u, level.PowerW, Math.Max(endS, tail[^1].EndS - hiddenS), 0, null);
        }

        var (removedS, removedU) = _fall.Border(tail[after], level.PowerW, 0, false, stepsAfter);
        return new CounterEnd(endS, u, level.PowerW, Math.Max(endS, removedS), removedU, tail[after].PowerW,
            MayStay: MayStay(tail[after], level));
    }

    // The last line may hold fewer steps than it takes to tell its power.
    private static bool MayStay(in CounterLine after, in CounterLine level) => after.MostW >= TakenOff * level.PowerW;

    // Nothing is level for long enough. The last line may be the full device or still the fall; where it is lower than the one before, it
    // may be the waiting charger, and the one before the full device.
    private CounterEnd Open()
    {
        var last = _lines[^1];
        bool isLow = last.PowerW < LowShare * _lines[_plateau].PowerW;
        var waiting = _waitingW is { } known ? _band.LongestTo(_band.Count, 1, WaitingRoom * known) : default;
        if (waiting.From > _lines[_plateau].To && waiting.LengthS >= CounterFall.LeastLevelS)
        {
            int before = Math.Max(_plateau + 1, _lines.FindLastIndex(l => l.EndS <= waiting.StartS));
            double fromS = Math.Min(_lines[before].StartS, waiting.StartS);
            return new CounterEnd(fromS, 0, null, _fall.LatestS(waiting), 0, waiting.PowerW, isLow);
        }

        int may = _lines.Count - 2;
        return may > _plateau && last.PowerW < TakenOff * _lines[may].PowerW
            ? new CounterEnd(FirstLike(may).StartS, 0, null, _fall.LatestS(last), 0, last.PowerW, isLow, true)
            : new CounterEnd(FirstLike(_lines.Count - 1).StartS, 0, null, last.EndS, 0, null, isLow);
    }

    // The first of the lines that stand at about one level, or of those that tell their power as low as that.
    private CounterLine FirstLike(int line)
    {
        int first = line;
        while (first - 1 > _plateau && TakenOff * _lines[first - 1].PowerW <= _lines[line].PowerW)
        {
            first--;
        }

        int low = _lines.FindIndex(_plateau + 1, l => _returns.Tells(l) && TakenOff * l.PowerW <= _lines[line].PowerW);
        return _lines[low >= 0 && low < first ? low : first];
    }
}
