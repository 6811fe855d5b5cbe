using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A sign that turns in the middle of a log: from one row to the next power is as large as it was, within a factor of 1.5, and has the
/// other sign, and so it was for five rows before and stays for five. A device that gives power back does not begin with as much as it
/// took.
/// </summary>
internal static class TurnedSign
{
    private const int Rows = 5;
    private const double LeastW = 1;
    private const double Alike = 1.5;

    /// <summary>Time from which the sign is another one; null where it stays.</summary>
    public static double? FromS(ReadingCell[] cells)
    {
        bool turns = false;
        foreach (ref readonly var cell in cells.AsSpan())
        {
            turns |= cell.MinW < -LeastW;
        }

        for (int i = Rows; turns && i + Rows <= cells.Length; i++)
        {
            // In a long log the cell between holds rows of either sign.
            if ((Turns(cells, i, i) && cells[i].MaxW * cells[i].MinW >= 0) || (cells[i].MinW * cells[i].MaxW < 0 && Turns(cells, i, i + 1)))
            {
                return cells[i].FromS;
            }
        }

        return null;
    }

    private static bool Turns(ReadingCell[] cells, int end, int first) => first + Rows <= cells.Length
        && IsOpposite(cells[end - 1].MiddleW, cells[first].MiddleW)
        && IsOpposite(Middle(cells, end - Rows), Middle(cells, first))
        && IsOpposite(Middle(cells, end - Rows), cells[first].MiddleW)
        && Stays(cells, end - Rows) && Stays(cells, first);

    private static bool Stays(ReadingCell[] cells, int from)
    {
        for (int i = from; i < from + Rows; i++)
        {
            if (cells[i].MiddleW * cells[from].MiddleW <= 0)
            {
                return false;
            }
        }

        return true;
    }

    private static bool IsOpposite(double beforeW, double afterW) =>
        Math.Min(Math.Abs(beforeW), Math.Abs(afterW)) > LeastW && -afterW / beforeW is > 1 / Alike and < Alike;

    private static double Middle(ReadingCell[] cells, int from) =>
        HighMedian.Of(cells.AsSpan(from, Rows).ToArray().Select(c => c.MiddleW).ToArray());
}
