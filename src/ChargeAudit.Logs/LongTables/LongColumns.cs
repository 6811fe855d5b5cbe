using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.LongTables;

/// <summary>Which columns of a long table hold the times, the names, the value and the unit.</summary>
/// <param name="Times">Time, or date and clock time.</param>
/// <param name="Names">Columns that name the series; may be empty where a unit alone tells them.</param>
/// <param name="Value">The value.</param>
/// <param name="Unit">The unit; −1 for none.</param>
internal sealed record LongColumns(IReadOnlyList<int> Times, IReadOnlyList<int> Names, int Value, int Unit)
{
    // A text column that says something else in most rows names no series.
    private const double MostDifferent = 0.5;
    private const int FewestRows = 4;
    private const int FirstRows = 200;

    /// <summary>Finds the columns.</summary>
    /// <param name="table">The table as it stands.</param>
    /// <param name="all">Its rows; most tables need not be looked at beyond the first of them.</param>
    /// <returns>Null where the table is not a long one.</returns>
    public static LongColumns? Of(Table table, Lazy<List<string[]>> all)
    {
        List<string[]> rows = [.. table.FullRows.Take(FirstRows)];
        if (rows.Count < FewestRows)
        {
            return null;
        }

        HeaderText[] headers = [.. table.Header.Select(h => HeaderText.Parse(h))];
        double[] numeric = [.. headers.Select((_, i) => Share(rows, i, f => Cells.IsNumber(f, table.Separator)))];
        bool[] time = [.. headers.Select((h, i) => h.Quantity is LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock
            || Share(rows, i, Cells.IsTime) > 0.9)];
        int[] electrical = [.. Indices(headers, i => headers[i].Quantity >= LogQuantity.Voltage && numeric[i] > 0.3 && !time[i])];
        int[] values = [.. Indices(headers, i => HeaderWords.IsOnly(table.Header[i], "value") && numeric[i] > 0.3 && !time[i])];
        int value = values.Length == 1 ? values[0] : values.Length == 0 && electrical.Length == 1 ? electrical[0] : -1;
        if (value < 0 || electrical.Any(e => e != value))
        {
            return null;
        }

        rows = all.Value;
        int unit = Indices(headers, i => i != value && numeric[i] < 0.1 && !time[i] && AreUnits(rows, i)
            && !HeaderWords.IsOnly(table.Header[i], "series")).FirstOrDefault(-1);
        bool named = headers[value].Quantity != LogQuantity.Ignored;
        int[] texts = [.. Indices(headers, i => i != value && i != unit && !time[i] && numeric[i] < 0.5 && IsRepeated(rows, i))];
        int[] names = [.. texts.Where(i => HeaderWords.IsOnly(table.Header[i], "series") || (!named && NamesQuantities(rows, i)))];
        int[] times = [.. Indices(headers, i => time[i] && Differs(rows, i))
            .OrderByDescending(i => headers[i].Quantity == LogQuantity.Date)];
        bool tells = names.Length > 0 || unit >= 0;
        return tells && times.Length > 0 && (named || names.Length > 0 || unit >= 0)
            ? new LongColumns(times.Length > 1 ? Pair(rows, times) : times, names, value, unit)
            : null;
    }

    private static IEnumerable<int> Indices(HeaderText[] headers, Func<int, bool> where) =>
        Enumerable.Range(0, headers.Length).Where(where);

    private static double Share(List<string[]> rows, int index, Func<string, bool> of)
    {
        int filled = 0, fitting = 0;
        foreach (string[] row in rows.Take(FirstRows))
        {
            filled += row[index].Length > 0 ? 1 : 0;
            fitting += row[index].Length > 0 && of(row[index]) ? 1 : 0;
        }

        return filled == 0 ? 0 : (double)fitting / filled;
    }

    private static bool AreUnits(List<string[]> rows, int index)
    {
        string[] texts = [.. rows.Select(r => r[index]).Where(t => t.Length > 0).Distinct(StringComparer.Ordinal).Take(40)];
        int known = texts.Count(t => UnitTable.TryFind(t, out _));
        return known > 0 && known >= 0.5 * texts.Length
            && texts.Any(t => UnitTable.TryFind(t, out Unit u) && HeaderText.QuantityOf(u.Kind) >= LogQuantity.Voltage);
    }

    private static bool IsRepeated(List<string[]> rows, int index)
    {
        int different = rows.Select(r => r[index]).Distinct(StringComparer.Ordinal).Count();
        return different == 1 || different <= MostDifferent * rows.Count;
    }

    private static bool Differs(List<string[]> rows, int index) =>
        rows.Select(r => r[index]).Distinct(StringComparer.Ordinal).Skip(1).Any();

    private static bool NamesQuantities(List<string[]> rows, int index) =>
        rows.Select(r => r[index]).Distinct(StringComparer.Ordinal).Take(100).Any(t => HeaderText.Parse(t).Quantity >= LogQuantity.Voltage);

    // A date and a clock time belong together; of several whole times the one that tells most rows apart is the time.
    private static int[] Pair(List<string[]> rows, int[] times)
    {
        int day = Array.FindIndex(times, i => Share(rows, i, Cells.IsDate) > 0.9);

        // A date such as 17.05.31 looks like a clock time as well.
        int hour = Array.FindIndex(times, i => (day < 0 || i != times[day]) && Share(rows, i, Cells.IsClock) > 0.9);
        return day >= 0 && hour >= 0
            ? [times[day], times[hour]]
            : [times.MaxBy(t => rows.Select(r => r[t]).Distinct(StringComparer.Ordinal).Count())];
    }
}
