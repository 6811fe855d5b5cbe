namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A meter's noise, where its digits show it: wherever a log does not move, three readings in a row turn up and down, and less often are
/// all three equal. Then no run of readings that are equal to the last digit is a steady load. Noise smaller than the step shows only where
/// a value lies between two steps, so some turns have to be wider than one; a meter that prints great values to fewer digits hides its
/// noise there; and pulses of a load are not noise.
/// </summary>
internal static class VisibleNoise
{
    private const int LeastTurns = 4;

    // Of them on either side: a load may begin or end to scatter.
    private const int LeastTurnsBeside = 2;
    private const double MostFlat = 0.45;
    private const double LeastSurprise = 12;

    // Turns of a value between two steps go one step up and one down; a mean of two readings moves in half steps.
    private const double Wide = 2.5;
    private const double WideOfMeans = 4.5;
    private const double LeastWide = 0.2;

    // Of the run's value: more is not noise of a meter.
    private const double MostNoise = 0.01;

    // Readings that show whether great values are printed as finely as small ones.
    private const double GreatShare = 0.3;
    private const int LeastGreat = 2;
    private const int MostPlaces = 6;

    /// <summary>Whether the noise that a log shows outside a run denies that the run was measured.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">First of the run.</param>
    /// <param name="to">Its last.</param>
    /// <param name="isPrinted">Whether the readings are numbers as the meter printed them.</param>
    public static bool Denies(ReadingCell[] cells, int from, int to, bool isPrinted)
    {
        int turns = 0, flat = 0, equal = 0, wide = 0, before = 0;
        double step = LeastChange(cells) * (isPrinted ? Wide : WideOfMeans);
        double most = MostNoise * cells[from].MaxW;
        for (int i = 2; i < cells.Length; i++)
        {
            if (i >= from && i - 2 <= to)
            {
                continue;
            }

            double first = cells[i - 1].MiddleW - cells[i - 2].MiddleW, second = cells[i].MiddleW - cells[i - 1].MiddleW;
            if (first == 0 && second == 0)
            {
                // Another run at the same value is under the same suspicion.
                flat += cells[i].MiddleW == cells[from].MiddleW ? 0 : 1;
            }
            else if (first * second <= 0 && Math.Abs(first) <= most && Math.Abs(second) <= most)
            {
                turns += first * second < 0 ? 1 : 0;
                before += first * second < 0 && i < from ? 1 : 0;
                wide += first * second < 0 && Math.Abs(first) + Math.Abs(second) > step ? 1 : 0;
                equal += first == 0 ? 1 : 0;
            }
        }

        double share = (flat + equal + 1.0) / (flat + turns + (2 * equal) + 2.0);
        return turns >= LeastTurns && Math.Min(before, turns - before) >= LeastTurnsBeside && wide >= LeastWide * turns
            && flat <= MostFlat * (flat + turns) && (to - from) * Math.Log(1 / share) > LeastSurprise
            && (!isPrinted || GreatAreAsFine(cells, from, to));
    }

    private static double LeastChange(ReadingCell[] cells)
    {
        double least = double.PositiveInfinity;
        for (int i = 1; i < cells.Length; i++)
        {
            double change = Math.Abs(cells[i].MiddleW - cells[i - 1].MiddleW);
            least = change > 1e-9 ? Math.Min(least, change) : least;
        }

        return least;
    }

    private static bool GreatAreAsFine(ReadingCell[] cells, int from, int to)
    {
        int finest = 0, great = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            int places = Places(cells[i].MaxW);
            bool isGreat = (i < from || i > to) && cells[i].MaxW > GreatShare * cells[from].MaxW;
            great = places > finest ? 0 : great;
            finest = Math.Max(places, finest);
            great += isGreat && places == finest ? 1 : 0;
        }

        return great >= LeastGreat;
    }

    private static int Places(double value)
    {
        int places = 0;
        for (double scaled = value; places < MostPlaces
            && Math.Abs(scaled - Math.Round(scaled)) > 1e-6; scaled = value * Math.Pow(10, places))
        {
            places++;
        }

        return places;
    }
}
