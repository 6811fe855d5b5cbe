namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Leaps of a counter that only the whole log shows to be none of its advances: one row in the midst of the log rises far faster than
/// the counter ever does. A leap that joins the track before a fall, or a fall that joins the track before a leap, makes the readings
/// between them bad ones, however many they are. A leap by itself stays a rise of which nobody knows whether it flowed. Pure functions.
/// </summary>
internal static class CounterLeaps
{
    /// <summary>A counter steps by two at once where a load begins; this many are a leap. [1]</summary>
    private const double LeastSteps = 5;

    /// <summary>A leap back to an earlier track is this many times faster than any other rise. [1]</summary>
    private const double Back = 4;

    /// <summary>Of rises beside a leap within a charge this share of the fastest other rise is enough. [1]</summary>
    private const double Charging = 0.5;

    /// <summary>More leaps than these are the counter's way to rise. [1]</summary>
    private const int Most = 4;

    /// <summary>So many other rises tell how fast the counter rises. [1]</summary>
    private const int LeastOthers = 16;

    /// <summary>What each reading is found to be; null where there is no leap.</summary>
    /// <param name="points">Good readings, the first of all among them.</param>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    public static CounterVerdict[]? Of(IReadOnlyList<CounterPoint> points, double stepJ)
    {
        if (!(stepJ > 0))
        {
            return null;
        }

        double[] ratesW = RatesW(points);
        var (leaps, otherW) = Leaps(points, ratesW, stepJ);
        if (leaps.Count == 0)
        {
            return null;
        }

        CounterVerdict[] verdicts = [.. points.Select(p => p.Step)];
        var joining = leaps.Where(leap => verdicts[leap] == CounterVerdict.Good && (JoinsBack(points, verdicts, leap, otherW, stepJ)
            || JoinsOn(points, verdicts, leap, otherW, stepJ))).ToList();
        var alone = leaps.Except(joining)
            .Where(leap => verdicts[leap] == CounterVerdict.Good && StandsAlone(points, verdicts, ratesW, leap, otherW)).ToList();
        foreach (int leap in alone)
        {
            verdicts[leap] = CounterVerdict.Fell;
        }

        return joining.Count + alone.Count > 0 ? verdicts : null;
    }

    // Power since the counter last changed, as it may stand still and then make up for it; behind a fall, in its row. Zero where it fell
    // or did not move.
    private static double[] RatesW(IReadOnlyList<CounterPoint> points)
    {
        var ratesW = new double[points.Count];
        double sinceS = points.Count > 0 ? points[0].TimeS : 0;
        bool fell = false;
        for (int i = 1; i < points.Count; i++)
        {
            bool falls = points[i].Step != CounterVerdict.Good;
            double rise = falls ? 0 : points[i].ReadingJ - points[i - 1].ReadingJ;
            double lengthS = points[i].TimeS - (fell ? points[i - 1].TimeS : sinceS);
            ratesW[i] = rise > 0 && lengthS > 0 ? rise / lengthS : 0;
            sinceS = rise > 0 || falls ? points[i].TimeS : sinceS;
            fell = falls || (fell && rise == 0);
        }

        return ratesW;
    }

    // The fastest rises, where they stand far above all others, and the fastest of the others.
    private static (List<int> At, double OtherW) Leaps(IReadOnlyList<CounterPoint> points, double[] ratesW, double stepJ)
    {
        int[] fastest = [.. Enumerable.Range(0, ratesW.Length).Where(i => ratesW[i] > 0).OrderByDescending(i => ratesW[i])];
        for (int n = Math.Min(Most, fastest.Length - LeastOthers); n >= 1; n--)
        {
            double otherW = ratesW[fastest[n]];
            if (ratesW[fastest[n - 1]] > Back * otherW)
            {
                return ([.. fastest.Take(n).Where(i => IsLeap(points, i, otherW, stepJ)).Order()], otherW);
            }
        }

        return ([], 0);
    }

    // Behind a gap, or a clock that was set, the time is not known. Rows that come late and all at once rise fast as well, but not with
    // those around them.
    private static bool IsLeap(IReadOnlyList<CounterPoint> points, int at, double otherW, double stepJ)
    {
        const int Around = 4;
        int from = Math.Max(0, at - Around), to = Math.Min(points.Count - 1, at + Around);
        double riseJ = 0;
        for (int i = from + 1; i <= to; i++)
        {
            riseJ += points[i].Step == CounterVerdict.Good ? points[i].ReadingJ - points[i - 1].ReadingJ : 0;
        }

        double leastJ = LeastSteps * stepJ;
        return !points[at].AfterGap && points[at].ReadingJ - points[at - 1].ReadingJ > leastJ
            && riseJ > (otherW * (points[to].TimeS - points[from].TimeS)) + leastJ;
    }

    // The last fall before the leap, if the leap leads to where the counter would be without both.
    private static bool JoinsBack(IReadOnlyList<CounterPoint> points, CounterVerdict[] verdicts, int leap, double otherW, double stepJ)
    {
        int fall = leap - 1;
        while (fall > 0 && verdicts[fall] == CounterVerdict.Good)
        {
            fall--;
        }

        return fall > 0 && verdicts[fall] is CounterVerdict.Reset or CounterVerdict.Fell
            && Bridges(points, fall - 1, leap, otherW, stepJ) && IsDip(points, fall, leap) && Mark(verdicts, fall, leap);
    }

    // A counter that was reset may also stand still and then make up for it.
    private static bool IsDip(IReadOnlyList<CounterPoint> points, int fall, int leap)
    {
        double flowedJ = 0.5 * (points[leap].TimeS - points[fall - 1].TimeS)
            * (CounterAtFalls.RateW(points, fall - 1, -1) + CounterAtFalls.RateW(points, leap, 1));
        return Math.Abs(points[leap].ReadingJ - points[fall - 1].ReadingJ - flowedJ)
            < Math.Abs(points[leap].ReadingJ - points[fall].ReadingJ - flowedJ);
    }

    private static bool JoinsOn(IReadOnlyList<CounterPoint> points, CounterVerdict[] verdicts, int leap, double otherW, double stepJ)
    {
        int fall = leap + 1;
        while (fall < points.Count && verdicts[fall] == CounterVerdict.Good)
        {
            fall++;
        }

        return fall < points.Count && verdicts[fall] is CounterVerdict.Reset or CounterVerdict.Fell
            && Bridges(points, leap - 1, fall, otherW, stepJ) && Mark(verdicts, leap, fall);
    }

    private static bool Bridges(IReadOnlyList<CounterPoint> points, int from, int to, double otherW, double stepJ)
    {
        double rise = points[to].ReadingJ - points[from].ReadingJ;
        return rise >= 0 && rise <= (otherW * (points[to].TimeS - points[from].TimeS)) + (2 * stepJ);
    }

    private static bool Mark(CounterVerdict[] verdicts, int from, int to)
    {
        Array.Fill(verdicts, CounterVerdict.Bad, from, to - from);
        verdicts[to] = CounterVerdict.Good;
        return true;
    }

    // Twenty times faster than any other rise and with more power than any device takes; or in the midst of a charge, which goes on behind
    // it as before.
    private static bool StandsAlone(IReadOnlyList<CounterPoint> points, CounterVerdict[] verdicts, double[] ratesW, int leap, double otherW)
    {
        if (ratesW[leap] > Math.Max(CounterJudge.Strong, CounterJudge.Wild * otherW))
        {
            return true;
        }

        const int Beside = 3;
        return Enumerable.Range(1, Beside).All(k => Charges(leap - k)) && Enumerable.Range(1, Beside).All(k => Charges(leap + k));

        bool Charges(int at) => at > 0 && at < points.Count && verdicts[at] == CounterVerdict.Good && ratesW[at] >= Charging * otherW;
    }
}
