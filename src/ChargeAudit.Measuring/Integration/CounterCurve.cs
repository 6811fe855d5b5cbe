namespace ChargeAudit.Measuring.Integration;

/// <summary>A stretch over which a counter shows constant power.</summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End. [s]</param>
/// <param name="EnergyJ">Energy in it. [J]</param>
internal readonly record struct CounterStretch(double FromS, double ToS, double EnergyJ)
{
    /// <summary>Mean power. [W]</summary>
    public double MeanW => EnergyJ / (ToS - FromS);
}

/// <summary>
/// Energy over time as a counter shows it. A step's energy belongs to the time since the step before, never to the row in which it shows.
/// Where steps come less often than rows, energy is known best at the steps: it is the step's value, and only the time is not known, by an
/// interval between rows. Where rows come less often, it is known best at the rows: half a step above the reading, give or take half a
/// step. Values here count from half a step above the first reading, so that a reading stands for itself. Pure functions.
/// </summary>
internal sealed class CounterCurve
{
    /// <summary>A neighbour that steps this many times faster than a long wait for one step is another load. [1]</summary>
    private const double Faster = 2;

    private readonly List<Knot> _knots = [];
    private readonly double _stepJ;

    private CounterCurve(double stepJ) => _stepJ = stepJ;

    // A corner is the end of a stretch, whatever lies on one line with it.
    private readonly record struct Knot(double TimeS, double EnergyJ, double HalfWidthJ, bool AtStep, bool IsCorner = false);

    /// <summary>The stretches between the first and the last reading; they join without a hole.</summary>
    /// <param name="points">Readings with advances added up: time and energy, rising. At least two.</param>
    /// <param name="stepJ">Step of the counter; 0 or NaN where it is not known or finer than matters. [J]</param>
    /// <param name="firstJ">Energy at the start in the scale of the readings: 0 but for a counter that is known to start at zero.
    /// [J]</param>
    public static IReadOnlyList<CounterStretch> Of(IReadOnlyList<(double TimeS, double EnergyJ)> points, double stepJ, double firstJ = 0)
    {
        var curve = new CounterCurve(double.IsFinite(stepJ) ? stepJ : 0);
        curve.FindKnots(points, firstJ);
        return curve.Join();
    }

    private void FindKnots(IReadOnlyList<(double TimeS, double EnergyJ)> points, double firstJ)
    {
        var (startS, zeroJ) = points[0];
        double endS = points[^1].TimeS;
        double refreshS = RefreshS(points);
        _knots.Add(new Knot(startS, firstJ, 0.5 * _stepJ, false, true));
        double stepS = startS;
        for (int i = 1; i < points.Count; i++)
        {
            double advance = points[i].EnergyJ - points[i - 1].EnergyJ;
            if (advance <= 0)
            {
                continue;
            }

            double rowS = points[i].TimeS - points[i - 1].TimeS;
            double sinceS = points[i].TimeS - stepS;
            double energyJ = points[i].EnergyJ - zeroJ;
            if (advance < 1.5 * _stepJ)
            {
                double half = sinceS > 0 ? Math.Min(0.5 * _stepJ, 0.5 * _stepJ * rowS / sinceS) : 0.5 * _stepJ;
                Put(new Knot(points[i].TimeS - (0.5 * rowS), energyJ - (0.5 * _stepJ), half, true));
            }
            else
            {
                // A load that begins after a wait takes several steps in the counter's first refresh, which tells when it began. Over a row
                // that is longer, as over a gap, nobody saw a wait.
                double unseenS = Math.Max(refreshS, rowS);
                if (sinceS > Faster * refreshS && sinceS > unseenS)
                {
                    Put(new Knot(points[i].TimeS - unseenS, energyJ - advance, 0.5 * _stepJ, false, true));
                }

                Put(new Knot(points[i].TimeS, energyJ, 0.5 * _stepJ, false));
            }

            stepS = points[i].TimeS;
        }

        EndKnot(endS, points[^1].EnergyJ - zeroJ, firstJ);
    }

    // Between the first and last step the energy is known; before and after, at most a step has flowed: as much as at the neighbouring
    // rate, but no more than half a step.
    private void EndKnot(double endS, double lastJ, double firstJ)
    {
        if (_knots.Count(k => k.AtStep) < 2)
        {
            KeepTotal(endS, lastJ);
            return;
        }

        if (_knots[1].AtStep && firstJ == 0)
        {
            double headS = _knots[1].TimeS - _knots[0].TimeS;
            double flowed = Math.Min(0.5 * _stepJ, headS * SlopeW(2));
            _knots[0] = _knots[0] with { EnergyJ = _knots[1].EnergyJ - flowed };
        }

        var last = _knots[^1];
        double tailS = endS - last.TimeS;
        if (tailS <= 0)
        {
            SplitWaits();
            return;
        }

        _knots.Add(new Knot(endS, last.AtStep ? last.EnergyJ
            + Math.Min(0.5 * _stepJ, tailS * SlopeW(_knots.Count - 1)) : Math.Max(lastJ, last.EnergyJ), 0.5 * _stepJ, false, true));
        SplitWaits();
    }

    // With one step, nothing shows when it began to fill: its energy belongs to the whole time.
    private void KeepTotal(double endS, double lastJ)
    {
        if (_knots.Count == 2 && _knots[1].AtStep)
        {
            _knots.RemoveAt(1);
        }

        if (endS > _knots[^1].TimeS)
        {
            _knots.Add(new Knot(endS, Math.Max(lastJ, _knots[^1].EnergyJ), 0.5 * _stepJ, false));
        }
    }

    // A wait for one step beside a load that steps faster: half a step, give or take half a step, still belongs to that load.
    private void SplitWaits()
    {
        for (int i = _knots.Count - 1; i >= 1; i--)
        {
            var (a, b) = (_knots[i - 1], _knots[i]);
            if (b.EnergyJ - a.EnergyJ > 1.01 * _stepJ)
            {
                continue;
            }

            // Which load is faster must not depend on where in their rows the steps fell.
            double after = Outpaces(i + 1, i) ? SlopeW(i + 1) : 0;
            double before = i >= 2 && Outpaces(i - 1, i) ? SlopeW(i - 1) : 0;
            double half = 0.5 * _stepJ;
            if (b.AtStep && after > 0 && (half / after) < b.TimeS - a.TimeS && b.EnergyJ - half >= a.EnergyJ)
            {
                _knots.Insert(i, new Knot(b.TimeS - (half / after), b.EnergyJ - half, half, false, true));
                b = _knots[i];
            }

            if (a.AtStep && before > 0 && (half / before) < b.TimeS - a.TimeS && a.EnergyJ + half <= b.EnergyJ)
            {
                _knots.Insert(i, new Knot(a.TimeS + (half / before), a.EnergyJ + half, half, false, true));
            }
        }
    }

    // Knots that lie on one straight line within what is known about them are one stretch.
    private List<CounterStretch> Join()
    {
        var stretches = new List<CounterStretch>();
        int from = 0;
        double least = double.NegativeInfinity, most = double.PositiveInfinity;
        for (int i = 1; i < _knots.Count; i++)
        {
            var (a, b) = (_knots[from], _knots[i]);
            double length = b.TimeS - a.TimeS;
            double rise = b.EnergyJ - a.EnergyJ;
            double play = a.HalfWidthJ + b.HalfWidthJ;
            double low = (rise - play) / length;
            double high = (rise + play) / length;
            if (i > from + 1 && (Math.Max(least, low) > Math.Min(most, high) || !MayJoin(from, i)))
            {
                var before = _knots[i - 1];
                stretches.Add(new CounterStretch(a.TimeS, before.TimeS, before.EnergyJ - a.EnergyJ));
                from = --i;
                (least, most) = (double.NegativeInfinity, double.PositiveInfinity);
                continue;
            }

            (least, most) = (Math.Max(least, low), Math.Min(most, high));
        }

        var (first, last) = (_knots[from], _knots[^1]);
        stretches.Add(new CounterStretch(first.TimeS, last.TimeS, last.EnergyJ - first.EnergyJ));
        return stretches;
    }

    // Long stretches of few steps would hide a mode: a play of a whole step is a lot there. An end that leaves half a step open says
    // nothing about what is known better beside it.
    private bool MayJoin(int from, int to)
    {
        var (a, between, b) = (_knots[from], _knots[to - 1], _knots[to]);
        bool alike = Math.Max(a.HalfWidthJ, b.HalfWidthJ) <= 2 * Math.Min(a.HalfWidthJ, b.HalfWidthJ);
        return alike && !between.IsCorner && !(a.IsCorner && a.HalfWidthJ > 2 * between.HalfWidthJ)
            && (b.EnergyJ - a.EnergyJ <= 8 * _stepJ || a.HalfWidthJ + b.HalfWidthJ < 0.5 * _stepJ);
    }

    private void Put(Knot knot)
    {
        var last = _knots[^1];
        if (knot.TimeS > last.TimeS)
        {
            _knots.Add(knot with { EnergyJ = Math.Max(knot.EnergyJ, last.EnergyJ) });
        }
        else
        {
            _knots[^1] = last with { EnergyJ = Math.Max(knot.EnergyJ, last.EnergyJ), AtStep = false };
        }
    }

    private bool Outpaces(int fast, int slow) => SlopeW(fast) > Faster * SlopeW(slow) && SlopeW(fast, -1) > SlopeW(slow, 1);

    // Power up to a knot; with what is known about both ends taken off, or added.
    private double SlopeW(int i, int sign = 0)
    {
        if (i < 1 || i >= _knots.Count)
        {
            return 0;
        }

        var (a, b) = (_knots[i - 1], _knots[i]);
        return (b.EnergyJ - a.EnergyJ + (sign * (a.HalfWidthJ + b.HalfWidthJ))) / (b.TimeS - a.TimeS);
    }

    // How often the counter brings a new value where it advances by several steps at once: the median time since the change before.
    private double RefreshS(IReadOnlyList<(double TimeS, double EnergyJ)> points)
    {
        var times = new List<double>();
        double stepS = points[0].TimeS;
        for (int i = 1; i < points.Count; i++)
        {
            double advance = points[i].EnergyJ - points[i - 1].EnergyJ;
            if (advance > 0)
            {
                if (advance >= 1.5 * _stepJ)
                {
                    times.Add(points[i].TimeS - stepS);
                }

                stepS = points[i].TimeS;
            }
        }

        times.Sort();
        return times.Count > 0 ? times[times.Count / 2] : double.PositiveInfinity;
    }
}
