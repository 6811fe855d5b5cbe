namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Bad readings of a counter at an end of its log that only the whole log shows: a coarse counter stands still beside them, so that nothing
/// near them tells its rate. A leap of many steps, twenty times faster than the counter rises anywhere else and with more power than any
/// device takes, comes from or leads to a bad reading. Pure.
/// </summary>
internal static class WildEnds
{
    /// <summary>A counter steps by two at once where a load begins; this many are a leap. [1]</summary>
    private const double LeastSteps = 5;

    /// <summary>How many readings at each end are bad.</summary>
    /// <param name="points">Good readings, the first of all among them.</param>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told, and then none is bad. [J]</param>
    public static (int AtStart, int AtEnd) Of(IReadOnlyList<CounterPoint> points, double stepJ)
    {
        int n = points.Count;
        if (!(stepJ > 0) || n < 4 * CounterJudge.MostAtEnd)
        {
            return (0, 0);
        }

        double middleW = GreatestW(points, CounterJudge.MostAtEnd + 1, n - CounterJudge.MostAtEnd);
        int start = 0, end = 0;
        double otherW = Math.Max(middleW, GreatestW(points, n - CounterJudge.MostAtEnd, n));
        for (int k = CounterJudge.MostAtEnd; k >= 1 && start == 0; k--)
        {
            start = IsLeap(points, k, stepJ, otherW) ? k : 0;
            otherW = Math.Max(otherW, RateW(points, k));
        }

        otherW = Math.Max(middleW, GreatestW(points, start + 1, CounterJudge.MostAtEnd + 1));
        for (int k = n - CounterJudge.MostAtEnd; k < n && end == 0; k++)
        {
            end = IsLeap(points, k, stepJ, otherW) ? n - k : 0;
            otherW = Math.Max(otherW, RateW(points, k));
        }

        return (start, end);
    }

    private static bool IsLeap(IReadOnlyList<CounterPoint> points, int at, double stepJ, double otherW) =>
        otherW > 0 && RateW(points, at) > Math.Max(CounterJudge.Strong, CounterJudge.Wild * otherW)
            && points[at].ReadingJ - points[at - 1].ReadingJ > LeastSteps * stepJ;

    private static double GreatestW(IReadOnlyList<CounterPoint> points, int from, int to)
    {
        double greatest = 0;
        for (int k = from; k < to; k++)
        {
            greatest = Math.Max(greatest, RateW(points, k));
        }

        return greatest;
    }

    // Zero where the counter fell, or where no time passed.
    private static double RateW(IReadOnlyList<CounterPoint> points, int at)
    {
        double lengthS = points[at].TimeS - points[at - 1].TimeS;
        return lengthS > 0 && points[at].Step == CounterVerdict.Good
            ? (points[at].ReadingJ - points[at - 1].ReadingJ) / lengthS
            : 0;
    }
}
