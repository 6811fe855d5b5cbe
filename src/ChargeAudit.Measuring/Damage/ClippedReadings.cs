using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Readings that pile up at the log's greatest value. Where the end of a range cuts readings that scatter, many rows share the greatest value, far more than share any value just
/// below it, and rows below it stand among them again and again; or, where power crosses the end quickly, rows that scatter lie close on either side. A charger that holds its power
/// leaves that value once and has no such rows before it; a coarse meter shows few values below it.
/// </summary>
internal static class ClippedReadings
{
    private const double Band = 0.05;
    private const int LeastAtEnd = 20;
    private const int LeastBelow = 20;
    private const int LeastValuesBelow = 8;
    private const int LeastReturns = 8;
    private const int TimesAsMany = 5;
    private const int LongestInterruption = 5;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules)
    {
        double end = cells.Where(c => c.MaxW <= rules.ImplausibleAboveW).Select(c => c.MaxW).DefaultIfEmpty(0).Max();
        if (!(end > 0) || rules.Samples == SampleKind.OnChange)
        {
            yield break;
        }

        int first = Array.FindIndex(cells, c => c.MaxW == end);
        int last = Array.FindLastIndex(cells, c => c.MaxW == end);
        var below = new Dictionary<double, int>();
        int atEnd = 0, returns = 0, rowsBelow = 0;
        bool before = false;
        for (int i = 0; i < cells.Length; i++)
        {
            bool at = cells[i].MaxW == end;
            atEnd += at ? 1 : 0;
            returns += at && !before && i > first ? 1 : 0;
            before = at;
            if (!at && cells[i].MaxW > (1 - Band) * end)
            {
                rowsBelow++;
                below[cells[i].MaxW] = below.GetValueOrDefault(cells[i].MaxW) + 1;
            }
        }

        bool returning = rowsBelow >= LeastBelow && below.Count >= LeastValuesBelow && returns >= LeastReturns && atEnd >= TimesAsMany * below.Values.Max();
        if (atEnd >= LeastAtEnd && (returning || Crosses(cells, end)))
        {
            double shiftS = StampShift.Of(rules);
            yield return new MarkedStretch(cells[first].FromS + shiftS, cells[last].ToS + shiftS, FaultKind.Clipped, string.Create(
                CultureInfo.InvariantCulture,
                $"readings pile up at {end:G5} W, the log's greatest, as at no value below: the meter's range was exceeded; they were kept, and what flowed above them is not known"))
            {
                Kept = true,
                AboveW = Math.BitDecrement(end),
            };
        }
    }

    // Whether somewhere readings close to the end scatter, then stay at it, then scatter close to it again.
    private static bool Crosses(ReadingCell[] cells, double end)
    {
        for (int from = 0; from < cells.Length; from++)
        {
            if (cells[from].MinW != end)
            {
                continue;
            }

            int to = from;
            int atEnd = 1;
            for (int i = from + 1; i < cells.Length && i - to <= LongestInterruption; i++)
            {
                if (cells[i].MinW == end)
                {
                    to = i;
                    atEnd++;
                }
            }

            if (atEnd >= LeastAtEnd && Scatter.Shows(cells, from - Scatter.Rows, from, end, Band, out _) && Scatter.Shows(cells, to + 1, to + 1 + Scatter.Rows, end, Band, out _))
            {
                return true;
            }

            from = to;
        }

        return false;
    }
}
