using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>Whether readings scatter as a live sensor's do: neighbours differ, and turn up and down.</summary>
internal static class Scatter
{
    /// <summary>Readings looked at.</summary>
    public const int Rows = 20;

    private const double MostEqual = 0.5;

    // Fewer values may be a coarse meter's between two of its steps, where a reading dwells when the load has left the border.
    private const int LeastValues = 3;
    private const int ValuesOfScatter = 5;
    private const double DwellsAtMost = 0.7;
    private const double LeastTurns = 0.25;

    /// <summary>Judges a stretch; false where it reaches beyond the log.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">First of the stretch.</param>
    /// <param name="to">One after its last.</param>
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
        var values = new HashSet<double>();
        double last = 0;
        for (int i = from; i < to; i++)
        {
            if (levelW is { } level && Math.Abs(cells[i].MiddleW - level) > closeness * level)
            {
                return false;
            }

            values.Add(cells[i].MiddleW);
            if (i == from)
            {
                continue;
            }

            double step = cells[i].MiddleW - cells[i - 1].MiddleW;
            equal += step == 0 && cells[i].IsFlat ? 1 : 0;
            // Of several readings in a cell the order is not known; in a steady move those of neighbouring cells do not overlap.
            bool overlap = !cells[i].IsFlat && cells[i].MinW < cells[i - 1].MaxW && cells[i].MaxW > cells[i - 1].MinW;
            turns += step * last < 0 || overlap ? 1 : 0;
            last = step != 0 ? step : last;
        }

        equalShare = (double)equal / (to - from - 1);
        bool scatters = equalShare <= MostEqual;
        equalShare = values.Count < ValuesOfScatter ? Math.Max(equalShare, DwellsAtMost) : equalShare;
        return scatters && values.Count >= LeastValues && turns >= LeastTurns * (to - from - 1);
    }

    /// <summary>The middle one of the steps between neighbours. [W]</summary>
    public static double UsualStepW(ReadingCell[] cells, int from, int to)
    {
        var steps = new double[to - from - 1];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = Math.Abs(cells[from + i + 1].MiddleW - cells[from + i].MiddleW);
        }

        return HighMedian.Of(steps);
    }
}
