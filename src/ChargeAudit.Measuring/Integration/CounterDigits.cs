namespace ChargeAudit.Measuring.Integration;

/// <summary>From where on a counter is printed with fewer decimals.</summary>
/// <param name="StepJ">The coarser step: a unit of the last digit there. [J]</param>
/// <param name="FromJ">The least reading that is printed so. [J]</param>
internal readonly record struct CoarserDigits(double StepJ, double FromJ)
{
    /// <summary>Slack for readings that are no whole steps as doubles. [1]</summary>
    private const double Slack = 1e-6;

    /// <summary>What a reading would have shown with the coarser step. Whether that is cut down or rounded is not known, so it lies
    /// between the two. [J]</summary>
    public double Shown(double readingJ) => readingJ >= FromJ
        ? readingJ
        : Math.Min(FromJ, Math.Floor((readingJ / StepJ) + 0.25 + Slack) * StepJ);
}

/// <summary>
/// Finds out whether a counter is printed with a fixed number of digits, so that it loses a decimal where it grows (9.999, then 10.00).
/// Only values count, not their order. Pure functions.
/// </summary>
internal static class CounterDigits
{
    /// <summary>So many different readings that all end in a zero are printed without that digit. [1]</summary>
    private const int Anywhere = 4;

    /// <summary>Above a power of ten so many are enough, of a display of three digits and more. [1]</summary>
    private const int AbovePowerOfTen = 2;
    private const long ThreeDigits = 1000;

    /// <summary>One is enough above a power of ten where it stays this many times longer than any of the readings before. [1]</summary>
    private const double Longer = 2;
    private const int Before = 8;

    /// <summary>Where decimals get lost; null where all readings are printed alike.</summary>
    /// <param name="points">Good readings.</param>
    /// <param name="unitJ">Energy of one of the unit in which the counter is printed. [J]</param>
    /// <param name="stepJ">The step of all advances; NaN where it cannot be told. [J]</param>
    public static CoarserDigits? Of(IReadOnlyList<CounterPoint> points, double unitJ, double stepJ)
    {
        double digitJ = CounterStep.LastDigit(points, unitJ) * unitJ;
        if (!(stepJ > 0) || points.Any(p => Math.Abs(p.ReadingJ) > CounterStep.MostExact * digitJ))
        {
            return null;
        }

        long step = (long)Math.Round(stepJ / digitJ);
        long[] shown = [.. points.Select(p => (long)Math.Round(p.ReadingJ / digitJ)).Where(w => w > 0).Distinct().Order()];
        CoarserDigits? coarser = null;
        long below = 0;
        for (long tens = 10; step % tens != 0; tens *= 10)
        {
            int first = shown.Length;
            while (first > 0 && shown[first - 1] % tens == 0)
            {
                first--;
            }

            if (first == 0 || first == shown.Length)
            {
                break;
            }

            // Each decimal is lost at a power of ten of its own.
            long power = PowerAbove(Math.Max(below, shown[first - 1]));
            int above = shown.Skip(first).Count(w => w >= power);
            if (above >= AbovePowerOfTen || (above == 1 && Stays(points, power * digitJ)))
            {
                coarser = new CoarserDigits(tens * digitJ, shown[^above] * digitJ);
                below = power;
            }
            else if (shown.Length - first >= Anywhere)
            {
                coarser = new CoarserDigits(tens * digitJ, shown[first] * digitJ);
            }
            else
            {
                break;
            }
        }

        return coarser;
    }

    private static long PowerAbove(long value)
    {
        long power = ThreeDigits;
        while (power <= value)
        {
            power *= 10;
        }

        return power;
    }

    // A counter that steps on by its last digit shows the power of ten itself as any other reading; with a digit less it stays there.
    private static bool Stays(IReadOnlyList<CounterPoint> points, double powerJ)
    {
        int at = 0;
        while (at < points.Count && points[at].ReadingJ < 0.999999 * powerJ)
        {
            at++;
        }

        if (at == points.Count)
        {
            return false;
        }

        int end = at;
        while (end + 1 < points.Count && points[end + 1].ReadingJ == points[at].ReadingJ)
        {
            end++;
        }

        double longestS = 0, changedS = points[at].TimeS;
        for (int i = at - 1, seen = 0; i > 0 && seen < Before; i--)
        {
            if (points[i].ReadingJ != points[i - 1].ReadingJ)
            {
                (longestS, changedS, seen) = (Math.Max(longestS, changedS - points[i].TimeS), points[i].TimeS, seen + 1);
            }
        }

        return longestS > 0 && points[end].TimeS - points[at].TimeS > Longer * longestS;
    }
}
