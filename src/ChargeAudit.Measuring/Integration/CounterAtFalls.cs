namespace ChargeAudit.Measuring.Integration;

/// <summary>What may have flowed unseen where a counter fell.</summary>
/// <param name="FromS">Time of the last reading before. [s]</param>
/// <param name="ToS">Time of the first after. [s]</param>
/// <param name="HiddenJ">Energy that may have flowed beyond what was counted. [J]</param>
/// <param name="MayBeTwice">Whether rows may stand twice there: the time goes on from a gap or a clock that was set, and the counter from
/// an earlier reading.</param>
internal readonly record struct HiddenAtFall(double FromS, double ToS, double HiddenJ, bool MayBeTwice);

/// <summary>
/// How far a counter advanced where it fell. One that reached the end of its range just before, a power of ten of its unit or a power of
/// two of its steps, rolled over: its advance is known. Otherwise the least that has flowed is taken, and as much as the counter's rate
/// beside the fall brings may have flowed as well. Pure functions.
/// </summary>
internal static class CounterAtFalls
{
    private const int Beside = 8;
    private const double Faster = 1.2;

    // The interval of a rectangular error ends a twentieth short of its half-width.
    private const double Reach = 1.06;
    private const int MostTens = 9;
    private const double KilounitTolerance = 2e-3;
    private const int LeastSteps = 20;

    // A coarse counter takes two steps at once where a load begins.
    private const double Steps = 2;

    /// <summary>The advance to a reading from the one before, at which the counter fell, and what it may hide. [J]</summary>
    /// <param name="points">Good readings.</param>
    /// <param name="at">The first reading after the fall; not the first of all.</param>
    /// <param name="unitJ">Energy of one of the unit in which the counter is printed. [J]</param>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    public static (double AdvanceJ, double HiddenJ) Advance(IReadOnlyList<CounterPoint> points, int at, double unitJ, double stepJ)
    {
        var (before, after) = (points[at - 1], points[at]);
        double lengthS = after.TimeS - before.TimeS;
        double usualJ = Math.Max(RateW(points, at - 1, -1), RateW(points, at, 1)) * lengthS;
        double step = stepJ > 0 ? stepJ : 0;
        foreach (double endJ in Ends(unitJ, step))
        {
            double rolledJ = after.ReadingJ + endJ - before.ReadingJ;
            if (step > 0 && rolledJ >= 0 && rolledJ <= (2 * usualJ) + (Steps * step) && before.ReadingJ > 0.5 * endJ
                && before.ReadingJ <= endJ + step)
            {
                return (rolledJ, 0);
            }
        }

        double least = after.AdvanceFrom(in before);
        double hiddenJ = Math.Max(0, (Faster * usualJ) + step - least);

        // A leap flowed or did not. Where the clock was set back, rows may stand twice: then what the counter fell by was counted twice.
        bool twice = after.Step == CounterVerdict.Fell && (after.AfterGap || after.ReadingJ > before.ReadingJ);
        return (least, twice ? Reach * Math.Max(hiddenJ, Math.Abs(after.ReadingJ - before.ReadingJ)) : hiddenJ);
    }

    /// <summary>Line at which the counter's unit changes: it falls to a thousandth, or rises by more than any charger takes; null where
    /// none does.</summary>
    /// <param name="points">Good readings.</param>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    /// <param name="mostW">More than any charger takes. [W]</param>
    public static long? ChangedUnit(IReadOnlyList<CounterPoint> points, double stepJ, double mostW)
    {
        double step = stepJ > 0 ? stepJ : 0;
        for (int i = 1; i < points.Count; i++)
        {
            var (before, after) = (points[i - 1], points[i]);
            double rise = after.ReadingJ - before.ReadingJ;
            if (after.Step == CounterVerdict.Good
                ? step > 0 && after.TimeS > before.TimeS && rise - (Steps * step) > 1.5 * mostW * (after.TimeS - before.TimeS)
                : after.ReadingJ > LeastSteps * step
                    && Math.Abs((1000 * after.ReadingJ) - before.ReadingJ) < (KilounitTolerance * before.ReadingJ)
                    + (500 * step * (step > 1e-3 * before.ReadingJ ? 0 : 1)))
            {
                return after.Line;
            }
        }

        return null;
    }

    private static IEnumerable<double> Ends(double unitJ, double stepJ)
    {
        for (int tens = 0; tens <= MostTens; tens++)
        {
            yield return unitJ * Math.Pow(10, tens);
        }

        foreach (int bits in new[] { 16, 24, 31, 32 })
        {
            yield return Math.ScaleB(stepJ, bits);
            yield return Math.ScaleB(unitJ, bits);
        }
    }

    /// <summary>Mean power by the counter over some readings on one side, as far as it does not fall. [W]</summary>
    /// <param name="points">Good readings.</param>
    /// <param name="from">The reading nearest to the fall.</param>
    /// <param name="direction">1 for readings behind it, −1 for those before.</param>
    public static double RateW(IReadOnlyList<CounterPoint> points, int from, int direction)
    {
        int to = from;
        while (Math.Abs(to - from) < Beside && to + direction >= 0 && to + direction < points.Count
            && points[direction > 0 ? to + 1 : to].Step == CounterVerdict.Good)
        {
            to += direction;
        }

        double length = Math.Abs(points[to].TimeS - points[from].TimeS);
        return length > 0 ? Math.Abs(points[to].ReadingJ - points[from].ReadingJ) / length : 0;
    }
}
