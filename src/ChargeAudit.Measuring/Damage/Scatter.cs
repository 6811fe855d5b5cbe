namespace ChargeAudit.Measuring.Damage;

/// <summary>Whether readings scatter as a live sensor's do: neighbours differ, and turn up and down.</summary>
internal static class Scatter
{
    /// <summary>Readings looked at.</summary>
    public const int Rows = 20;

    private const double MostEqual = 0.5;
    private const double LeastTurns = 0.25;

    /// <summary>Judges a stretch; false where it reaches beyond the log.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">First of the stretch.</param>
    /// <param name="to">One behind its last.</param>
    /// <param name="levelW">Power that all of them must be close to; null: any. [W]</param>
    /// <param name="closeness">How close, as a share of it. [1]</param>
    /// <param name="equalShare">Share of neighbours that are equal. [1]</param>
    public static bool Shows(ReadingCell[] cells, int from, int to, double? levelW, double closeness, out double equalShare)
    {
        equalShare = 1;
        if (from < 0 || to > cells.Length)
        {
            return false;
        }

        int equal = 0, turns = 0;
        double last = 0;
        for (int i = from; i < to; i++)
        {
            if (levelW is { } level && Math.Abs(cells[i].MiddleW - level) > closeness * level)
            {
                return false;
            }

            if (i == from)
            {
                continue;
            }

            double step = cells[i].MiddleW - cells[i - 1].MiddleW;
            equal += step == 0 && cells[i].IsFlat ? 1 : 0;
            turns += step * last < 0 || !cells[i].IsFlat ? 1 : 0;
            last = step != 0 ? step : last;
        }

        equalShare = (double)equal / (to - from - 1);
        return equalShare <= MostEqual && turns >= LeastTurns * (to - from - 1);
    }
}
