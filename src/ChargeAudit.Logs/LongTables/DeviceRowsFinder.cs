using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Logs.LongTables;

/// <summary>
/// Recognises a table whose rows belong to several devices in turn. A column called sensor, channel or the like names them, and they share
/// their times or take turns; a column that changes now and then (a mode, a source) names none. Under any other name a column does so where
/// readings jump with it: from one name to the next they differ by several times as much as from one row of a name to its next.
/// </summary>
internal static class DeviceRowsFinder
{
    private const int MostRows = 4000;
    private const int FewestRows = 8;
    private const int MostDevices = 50;
    private const double SharedTimes = 0.2;
    private const double Turns = 0.3;
    private const double Jump = 5;
    private const int LongestName = 40;

    /// <summary>Looks at a table.</summary>
    /// <param name="path">Name of the log.</param>
    /// <param name="table">The table as it stands.</param>
    /// <param name="wanted">What the user says about the device wanted; null for nothing.</param>
    /// <returns>Null where all rows are of one device.</returns>
    /// <exception cref="Metrology.Diagnostics.InputException">There are several devices, and it was not stated which is meant.</exception>
    public static DeviceRows? Find(string path, Table table, string? wanted)
    {
        if (table.Header.Count < 3 || table.HeaderLine is not long headerLine)
        {
            return null;
        }

        List<string[]> first = [.. table.FullRows.Take(FewestRows)];
        if (first.Count < FewestRows)
        {
            return null;
        }

        HeaderText[] headers = [.. table.Header.Select(h => HeaderText.Parse(h))];
        int[] times = [.. Enumerable.Range(0, headers.Length)
            .Where(i => IsTime(headers[i]) && !IsText(first, i))];
        int[] electrical = [.. Enumerable.Range(0, headers.Length).Where(i => headers[i].Quantity >= LogQuantity.Voltage)];
        var all = new Lazy<List<string[]>>(() => [.. table.FullRows.Take(MostRows)]);
        foreach (int column in Enumerable.Range(0, electrical.Length > 0 && times.Length > 0 ? headers.Length : 0))
        {
            if ((headers[column].Quantity == LogQuantity.Ignored || (IsTime(headers[column]) && IsText(first, column)))
                && headers[column].Unit is null
                && DevicesIn(all.Value, column, times) is { Count: > 1 } devices
                && (HeaderWords.IsOnly(table.Header[column], "series")
                    || (AreNames(devices) && electrical.Any(e => JumpsWith(all.Value, column, e, times)))))
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

    private static bool IsTime(HeaderText header) => header.Quantity is LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock;

    // "Tag" names a day in one language and a device in another.
    private static bool IsText(List<string[]> rows, int column) =>
        rows.Take(FewestRows).All(r => r[column].Length > 0 && char.IsLetter(r[column][0]) && !Cells.IsTime(r[column]));

    // Words of a state stand in such columns as well, but then readings go on across them. Numbers may be anything.
    private static bool AreNames(List<string> devices) =>
        devices.TrueForAll(d => d.Length <= LongestName && char.IsLetter(d.Trim()[0]) && !Cells.IsTime(d))
        && !devices.TrueForAll(d => HeaderWords.IsOnly(d, "state"));

    // From one row to the next, and where two names share a time.
    private static bool JumpsWith(List<string[]> rows, int column, int reading, int[] times)
    {
        var atTime = new Dictionary<string, (string Name, double Value)>(StringComparer.Ordinal);
        var last = new Dictionary<string, double>(StringComparer.Ordinal);
        var (own, other) = (new List<double>(), new List<double>());
        double before = double.NaN;
        string name = "";
        foreach (string[] row in rows)
        {
            if (!double.TryParse(row[reading].Replace(',', '.'), CultureInfo.InvariantCulture, out double value))
            {
                continue;
            }

            if (last.TryGetValue(row[column], out double ownBefore))
            {
                own.Add(Math.Abs(value - ownBefore));
            }

            if (name.Length > 0 && row[column] != name)
            {
                other.Add(Math.Abs(value - before));
            }

            string time = string.Join('\t', times.Select(t => row[t]));
            if (atTime.TryGetValue(time, out var same) && same.Name != row[column])
            {
                other.Add(Math.Abs(value - same.Value));
            }

            atTime[time] = (row[column], value);
            (last[row[column]], before, name) = (value, value, row[column]);
        }

        return own.Count >= FewestRows && other.Count >= FewestRows && HighMedian.Of([.. other]) > Jump * HighMedian.Of([.. own]);
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
