namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Finds the step of a counter: the greatest one of which all its advances are whole multiples. Readings are decimals, so they are turned
/// into whole numbers of their last digit first; a counter finer than it advances from row to row comes out at its last digit.
/// </summary>
internal static class CounterStep
{
    private const int MostDigits = 9;
    private const double MostWhole = 1e13;
    private const double Tolerance = 2e-3;

    /// <summary>Whole numbers up to this are exact as doubles.</summary>
    public const double MostExact = 1L << 53;

    /// <summary>The step; NaN where the counter never advances, or has more digits than a number holds. [J]</summary>
    /// <param name="points">Good readings.</param>
    /// <param name="unitJ">Energy of one of the unit in which the counter is printed. [J]</param>
    public static double Of(IReadOnlyList<CounterPoint> points, double unitJ)
    {
        double digit = LastDigit(points, unitJ);
        long step = 0;
        for (int i = 1; i < points.Count; i++)
        {
            if (points[i].Step == CounterVerdict.Good && points[i].ReadingJ != points[i - 1].ReadingJ)
            {
                double after = Math.Round(points[i].ReadingJ / unitJ / digit), before = Math.Round(points[i - 1].ReadingJ / unitJ / digit);
                if (Math.Max(Math.Abs(after), Math.Abs(before)) > MostExact)
                {
                    return double.NaN;
                }

                step = Divisor(step, (long)after - (long)before);
            }
        }

        return step > 0 ? step * digit * unitJ : double.NaN;
    }

    /// <summary>A unit of the last digit that is printed: the fewest digits that hold all readings.</summary>
    public static double LastDigit(IReadOnlyList<CounterPoint> points, double unitJ)
    {
        int digits = 0;
        double scale = 1;
        foreach (var point in points)
        {
            double printed = point.ReadingJ / unitJ;
            while (digits < MostDigits && Math.Abs(printed * scale) < MostWhole
                && Math.Abs((printed * scale) - Math.Round(printed * scale)) > Tolerance)
            {
                digits++;
                scale = Math.Pow(10, digits);
            }
        }

        return 1 / scale;
    }

    private static long Divisor(long a, long b)
    {
        while (b != 0)
        {
            (a, b) = (b, a % b);
        }

        return Math.Abs(a);
    }
}
