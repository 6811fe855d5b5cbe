namespace ChargeAudit.Measuring.Counting;

/// <summary>A line through a counter's band: constant power.</summary>
/// <param name="From">First of the readings it passes.</param>
/// <param name="To">The reading after the last.</param>
/// <param name="StartS">Time of the first. [s]</param>
/// <param name="EndS">Time of the last. [s]</param>
/// <param name="PowerW">Of the powers that fit, the one nearest to the energy from step to step, or the middle. [W]</param>
/// <param name="MostW">The greatest that fits. [W]</param>
internal readonly record struct CounterLine(int From, int To, double StartS, double EndS, double PowerW, double MostW)
{
    /// <summary>Length. [s]</summary>
    public double LengthS => EndS - StartS;

    /// <summary>Middle. [s]</summary>
    public double MiddleS => 0.5 * (StartS + EndS);

    /// <summary>Energy. [J]</summary>
    public double EnergyJ => PowerW * LengthS;

    /// <summary>The least power that fits. [W]</summary>
    public double LeastW { get; init; }

    /// <summary>Of several lines at one level taken as one, from the middle of the first to that of the last; else zero. [s]</summary>
    public double ApartS { get; init; }

    /// <summary>Length of the longest of them; of a single line, its own. [s]</summary>
    public double PartS { get; init; } = EndS - StartS;
}

/// <summary>
/// What a counter's readings allow: energy since the start lies at each reading between it and a step more, whatever the counter's phase.
/// Constant power is a straight line within that band. Only the first and the last of equal readings bound it. Immutable.
/// </summary>
internal sealed class CounterBand
{
    /// <summary>Readings are printed and added up in doubles: a line may leave the band by this share of a step. [1]</summary>
    private const double Slack = 1e-3;
    private const int MostTurns = 48;

    private readonly CounterRefresh _refresh;
    private readonly double[] _timeS;
    private readonly double[] _leastJ;
    private readonly double[] _mostJ;

    private CounterBand(double stepJ, CounterRefresh refresh, IReadOnlyList<(double TimeS, double LeastJ, double MostJ)> bounds)
    {
        StepJ = stepJ;
        _refresh = refresh;
        _timeS = [.. bounds.Select(b => b.TimeS)];
        _leastJ = [.. bounds.Select(b => b.LeastJ)];
        _mostJ = [.. bounds.Select(b => b.MostJ)];
    }

    /// <summary>Step of the counter. [J]</summary>
    public double StepJ { get; }

    /// <summary>Number of readings that bound the energy.</summary>
    public int Count => _timeS.Length;

    /// <summary>The band of the readings in a stretch.</summary>
    /// <param name="counted">Readings with advances added up, in order.</param>
    /// <param name="stepJ">Step of the counter, above 0. [J]</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static CounterBand Of(IReadOnlyList<(double TimeS, double EnergyJ)> counted, double stepJ, double fromS, double toS)
    {
        var bounds = new List<(double TimeS, double LeastJ, double MostJ)>();
        var refresh = CounterRefresh.Of(counted, stepJ);
        double oldS = refresh.OldestS;
        for (int i = 0; i < counted.Count; i++)
        {
            var (timeS, energyJ) = counted[i];
            bool first = i == 0 || counted[i - 1].EnergyJ < energyJ;
            bool last = i == counted.Count - 1 || counted[i + 1].EnergyJ > energyJ;
            double mostJ = energyJ + ((1 + Slack) * stepJ);
            if (oldS > 0)
            {
                Add(first, timeS, energyJ, double.PositiveInfinity);
                Add(last, timeS - oldS, double.NegativeInfinity, mostJ);
            }
            else
            {
                Add(first || last, timeS, first ? energyJ : double.NegativeInfinity, last ? mostJ : double.PositiveInfinity);
            }
        }

        // What is read may be older than its row, so a bound may lie before that of the reading before.
        return new CounterBand(stepJ, refresh, [.. bounds.OrderBy(b => b.TimeS)]);

        void Add(bool bounding, double timeS, double leastJ, double mostJ)
        {
            if (bounding && timeS >= fromS && timeS <= toS)
            {
                bounds.Add((timeS, leastJ, mostJ));
            }
        }
    }

    /// <summary>How far energy may leave a line of some power. [J]</summary>
    /// <param name="steps">Width of the band. [1]</param>
    /// <param name="powerW">Power of the line. [W]</param>
    public double WidthJ(double steps, double powerW) => (steps * StepJ) + (powerW * _refresh.UnsureS);

    /// <summary>Readings that a line passes, each value counted once where a counter is read more often than it is renewed. [1]</summary>
    public int Readings(in CounterLine line) => (line.To - line.From) / (_refresh.OldestS > 0 ? 2 : 1);

    /// <summary>Time of a reading. [s]</summary>
    public double TimeS(int index) => _timeS[index];

    /// <summary>Lines one after the other, each as long as fits, from the last reading back.</summary>
    /// <param name="from">The first reading; a line ends there.</param>
    /// <param name="steps">Width of the band; more than one step where power itself goes to and fro. [1]</param>
    public List<CounterLine> Lines(int from = 0, double steps = 1)
    {
        var lines = new List<CounterLine>();
        for (int to = Count; to > from; to = lines[^1].From)
        {
            lines.Add(LongestTo(to, steps, double.PositiveInfinity, from));
        }

        lines.Reverse();
        return lines;
    }

    /// <summary>The longest line that ends with a reading.</summary>
    /// <param name="to">The reading after its last, at least 1.</param>
    /// <param name="steps">Width of the band; more than one step where power itself goes to and fro. [1]</param>
    /// <param name="mostW">Greatest power of the line. [W]</param>
    /// <param name="first">The first reading it may reach.</param>
    public CounterLine LongestTo(int to, double steps, double mostW = double.PositiveInfinity, int first = 0)
    {
        int good = to - 1;
        int bad = first - 1;
        for (int reach = 2; good > first; reach *= 2)
        {
            int from = Math.Max(first, to - reach);
            if (Fit(from, to, steps, mostW) is null)
            {
                bad = from;
                break;
            }

            good = from;
        }

        while (good - bad > 1)
        {
            int from = bad + ((good - bad) / 2);
            (good, bad) = Fit(from, to, steps, mostW) is null ? (good, from) : (from, bad);
        }

        var (powerW, lowestW, highestW) = Power(good, to, steps, mostW);
        return new CounterLine(good, to, _timeS[good], _timeS[to - 1], powerW, highestW) { LeastW = lowestW };
    }

    // A power that fits all readings of a stretch; null where none does. How far the readings contradict a power is convex in it.
    private double? Fit(int from, int to, double steps, double mostW)
    {
        double low = 0;
        double lengthS = _timeS[to - 1] - _timeS[from];
        double high = lengthS > 0 ? Math.Min(mostW, (RiseJ(from, to) + (2 * steps * StepJ)) / lengthS) : 0;
        for (int turn = 0; turn < MostTurns; turn++)
        {
            double power = turn == 0 ? high : turn == 1 ? low : 0.5 * (low + high);
            var (contradictionJ, direction) = At(from, to, steps, power);
            if (contradictionJ <= 0)
            {
                return power;
            }

            if (direction == 0 || high - low <= 1e-9 * (1 + high))
            {
                return null;
            }

            (low, high) = direction > 0 ? (power, high) : (low, power);
            if (high < low)
            {
                return null;
            }
        }

        return null;
    }

    private (double PowerW, double LeastW, double MostW) Power(int from, int to, double steps, double mostW)
    {
        if (Fit(from, to, steps, mostW) is not { } power)
        {
            return (0, 0, 0);
        }

        double lengthS = _timeS[to - 1] - _timeS[from];
        double most = lengthS > 0 ? Math.Min(mostW, (RiseJ(from, to) + (2 * steps * StepJ)) / lengthS) : power;
        double low = Edge(from, to, steps, power, 0);
        double high = Edge(from, to, steps, power, most);

        // With few steps the slope of a line is loosely held; from step to step the energy is known.
        double fromStepW = to < Count ? (AtStepJ(to) - AtStepJ(from)) / (_timeS[to] - _timeS[from]) : 0.5 * (low + high);
        return (Math.Clamp(fromStepW, low, high), low, high);
    }

    // Where a step has just shown, the energy is at its reading; where the next step follows, at that one's.
    private double AtStepJ(int index) => double.IsFinite(_leastJ[index]) ? _leastJ[index] : _mostJ[index] - (Slack * StepJ);

    // The power nearest to an outer one that still fits.
    private double Edge(int from, int to, double steps, double inner, double outer)
    {
        if (At(from, to, steps, outer).ContradictionJ <= 0)
        {
            return outer;
        }

        for (int turn = 0; turn < MostTurns / 2; turn++)
        {
            double middle = 0.5 * (inner + outer);
            (inner, outer) = At(from, to, steps, middle).ContradictionJ <= 0 ? (middle, outer) : (inner, middle);
        }

        return inner;
    }

    // By how much the lower bounds overtake the upper ones along a line of some power, and whether more power (1) or less (−1) would help.
    private (double ContradictionJ, int Direction) At(int from, int to, double steps, double powerW)
    {
        double origin = _timeS[from];
        double least = double.NegativeInfinity, most = double.PositiveInfinity;
        double leastS = origin, mostS = origin;
        for (int i = from; i < to; i++)
        {
            double lineJ = powerW * (_timeS[i] - origin);
            if (_leastJ[i] - lineJ > least)
            {
                (least, leastS) = (_leastJ[i] - lineJ, _timeS[i]);
            }

            if (_mostJ[i] - lineJ < most)
            {
                (most, mostS) = (_mostJ[i] - lineJ, _timeS[i]);
            }
        }

        return (least - most - ((steps - 1) * StepJ), leastS > mostS ? 1 : leastS < mostS ? -1 : 0);
    }

    private double RiseJ(int from, int to)
    {
        double first = double.IsFinite(_leastJ[from]) ? _leastJ[from] : _mostJ[from] - StepJ;
        double last = double.IsFinite(_leastJ[to - 1]) ? _leastJ[to - 1] : _mostJ[to - 1] - StepJ;
        return last - first;
    }
}
