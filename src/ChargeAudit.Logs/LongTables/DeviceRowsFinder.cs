using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.LongTables;

/// <summary>
/// Recognises a table whose rows belong to several devices in turn. A column called sensor, channel or the like names them, and they share
/// their times or take turns; a column that changes now and then (a mode, a source) names none.
/// </summary>
internal static class DeviceRowsFinder
{
    private const int MostRows = 4000;
    private const int FewestRows = 8;
    private const int MostDevices = 50;
    private const double SharedTimes = 0.2;
    private const double Turns = 0.3;

    /// <summary>Looks at a table.</summary>
    /// <param name="path">Name of the log.</param>
    /// <param name="table">The table as it stands.</param>
    /// <param name="wanted">What the user says about the device wanted; null for nothing.</param>
    /// <returns>Null where all rows are of one device.</returns>
    /// <exception cref="Metrology.Diagnostics.InputException">There are several devices, and it was not stated which is meant.</exception>
    public static DeviceRows? Find(string path, Table table, string? wanted)
    {
        if (table.Header.Count < 3 || table.HeaderLine is not long headerLine
            || !table.Header.Any(h => HeaderWords.IsOnly(h, "series")))
        {
            return null;
        }

        List<string[]> rows = [.. table.Runs.SelectMany(r => r).Where(r => r.Length >= table.Header.Count).Take(MostRows)];
        if (rows.Count < FewestRows)
        {
            return null;
        }

        HeaderText[] headers = [.. table.Header.Select(h => HeaderText.Parse(h))];
        int[] times = [.. Enumerable.Range(0, headers.Length)
            .Where(i => headers[i].Quantity is LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock)];
        bool electrical = headers.Any(h => h.Quantity >= LogQuantity.Voltage);
        foreach (int column in Enumerable.Range(0, electrical && times.Length > 0 ? headers.Length : 0))
        {
            if (headers[column].Quantity == LogQuantity.Ignored && HeaderWords.IsOnly(table.Header[column], "series")
                && DevicesIn(rows, column, times) is { Count: > 1 } devices)
            {
                string taken = Choose(path, table.Header[column], devices, wanted);
                return new DeviceRows
                {
                    Separator = table.Separator,
                    HeaderLine = headerLine,
                    FirstDataLine = table.FirstDataLine,
                    Column = column,
                    Header = table.Header[column],
                    Taken = taken,
                    Notes = [$"Of the devices in column {LogErrors.Quote(table.Header[column])} {LogErrors.Quote(taken)} was taken, not "
                        + $"{LogErrors.List(devices.Where(d => d != taken))}."],
                };
            }
        }

        return null;
    }

    private static List<string>? DevicesIn(List<string[]> rows, int column, int[] times)
    {
        List<string> devices =
            [.. rows.Select(r => r[column]).Where(d => d.Length > 0).Distinct(StringComparer.Ordinal).Take(MostDevices + 1)];
        if (devices.Count is < 2 or > MostDevices)
        {
            return null;
        }

        int turns = rows.Zip(rows.Skip(1), (a, b) => a[column] != b[column]).Count(t => t);
        var sharing = rows.GroupBy(r => string.Join('\t', times.Select(t => r[t])), StringComparer.Ordinal)
            .Select(g => g.Select(r => r[column]).Distinct(StringComparer.Ordinal).Count() > 1).ToList();
        return turns >= Turns * rows.Count || sharing.Count(s => s) >= SharedTimes * sharing.Count ? devices : null;
    }

    private static string Choose(string path, string header, List<string> devices, string? wanted)
    {
        if (wanted is null)
        {
            throw LogErrors.SeveralDevices(path, header, [.. devices]);
        }

        string[] meant = [.. devices.Where(d => d.Equals(wanted, StringComparison.OrdinalIgnoreCase))];
        meant = meant.Length > 0 ? meant : [.. devices.Where(d => d.Contains(wanted, StringComparison.OrdinalIgnoreCase))];
        return meant.Length == 1 ? meant[0]
            : meant.Length == 0 ? throw LogErrors.NoSuchSeries(path, wanted, [.. devices])
            : throw LogErrors.SeveralDevices(path, header, meant);
    }
}
