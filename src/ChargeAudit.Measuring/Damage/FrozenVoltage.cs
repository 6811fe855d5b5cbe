namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Whether the voltage stays the same to the last digit for as long as the readings beside it do, though nowhere else in the log for a
/// third as long: the load may be held, and not the voltage as well. Pure functions.
/// </summary>
internal static class FrozenVoltage
{
    private const int LeastRows = 12;
    private const int TimesAsLong = 3;

    // Rows of the log for each of the run: what never happened in fewer says little.
    private const int TimesAsMany = 3;

    // Digits that a mean of equal readings keeps.
    private const int SameDigits = 9;

    /// <summary>Whether it does.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">First of a run of equal ones.</param>
    /// <param name="to">Its last.</param>
    public static bool Stays(ReadingCell[] cells, int from, int to)
    {
        // The cells at the ends may be means with a live row.
        int rows = to - from - 1;
        if (rows < LeastRows || cells.Length < (TimesAsMany + 1) * rows || double.IsNaN(cells[from + 1].MeanV))
        {
            return false;
        }

        double frozenV = VoltageV(cells, from + 1);
        for (int i = from + 2; i < to; i++)
        {
            if (VoltageV(cells, i) != frozenV)
            {
                return false;
            }
        }

        int stay = 0;
        for (int i = 1; i < cells.Length; i++)
        {
            bool own = i >= from && i <= to + 1;
            stay = own || VoltageV(cells, i) != VoltageV(cells, i - 1) ? 0 : stay + 1;
            if ((stay + 1) * TimesAsLong > rows)
            {
                return false;
            }
        }

        return frozenV > 0;
    }

    private static double VoltageV(ReadingCell[] cells, int i) => Math.Round(cells[i].MeanV, SameDigits);
}
