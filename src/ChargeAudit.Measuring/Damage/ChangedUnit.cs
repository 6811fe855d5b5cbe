namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A unit that changes in the middle of a log: from one row to the next power is a thousand times what it was, or a thousandth, within 8 %, steady for five rows on either side. A charge
/// that begins or ends has no such ratio; and where power rises, a thousand times it is more than any charger takes.
/// </summary>
internal static class ChangedUnit
{
    private const int Rows = 5;
    private const double Closeness = 1.08;
    private const double NoChargerW = 100;
    private const double LeastBeforeW = 1;

    /// <summary>Time at which the unit changes and the ratio of power after to before; null where none does.</summary>
    public static (double TimeS, double Ratio)? Find(ReadingCell[] cells)
    {
        for (int i = Rows; i + Rows < cells.Length; i++)
        {
            double near = cells[i + 1].MiddleW / cells[i - 1].MiddleW;
            if (!(near is > 900 and < 1100 or > 1 / 1100.0 and < 1 / 900.0))
            {
                continue;
            }

            // In a long log the cell between holds rows of both units.
            foreach (int first in new[] { i, i + 1 })
            {
                if (Steady(cells, i - Rows, out double before) && Steady(cells, first, out double after) && IsThousand(before, after))
                {
                    bool stillBefore = first > i && cells[i].MaxW < Closeness * before && cells[i].MinW > before / Closeness;
                    return (cells[stillBefore ? first : i].FromS, after / before);
                }
            }
        }

        return null;
    }

    private static bool IsThousand(double before, double after)
    {
        double ratio = after / before;
        return (after > NoChargerW && Math.Abs(Math.Log(ratio / 1000)) < Math.Log(Closeness)) || (before > LeastBeforeW && Math.Abs(Math.Log(ratio * 1000)) < Math.Log(Closeness));
    }

    private static bool Steady(ReadingCell[] cells, int from, out double middle)
    {
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        for (int i = from; i < Math.Min(from + Rows, cells.Length); i++)
        {
            least = Math.Min(least, cells[i].MinW);
            most = Math.Max(most, cells[i].MaxW);
        }

        middle = 0.5 * (least + most);
        return least > 0 && most < Closeness * least;
    }
}
