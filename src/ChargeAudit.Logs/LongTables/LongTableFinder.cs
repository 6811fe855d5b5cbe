using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.LongTables;

/// <summary>Recognises a table with a name and a value in each row, and decides which of its series are taken.</summary>
internal static class LongTableFinder
{
    private const int MostRows = 4000;
    private const int MostSeries = 500;

    // Series belong to one reading where their rows stand together in nearly all groups of one time.
    private const double TogetherShare = 0.8;

    /// <summary>Looks at a table.</summary>
    /// <param name="path">Name of the log.</param>
    /// <param name="table">The table as it stands.</param>
    /// <param name="wanted">What the user says about the series wanted; null for nothing.</param>
    /// <returns>Null where each row holds all its quantities.</returns>
    public static LongTable? Find(string path, Table table, string? wanted)
    {
        if (table.Header.Count < 2 || table.HeaderLine is not long headerLine)
        {
            return null;
        }

        var all = new Lazy<List<string[]>>(() => [.. table.FullRows.Take(MostRows)]);
        var columns = LongColumns.Of(table, all);
        if (columns is null)
        {
            return null;
        }

        List<string[]> rows = all.Value;

        var series = SeriesOf(rows, columns, table.Header[columns.Value]);
        bool quantityHeader = HeaderText.Parse(table.Header[columns.Value]).Quantity != LogQuantity.Ignored;
        if (series.Count > MostSeries || series.Count == 0 || (quantityHeader && series.Count == 1 && columns.Unit < 0))
        {
            return null;
        }

        List<string> notes = [];
        List<LongSeries> taken = Choose(path, series, wanted, columns.Names.Count > 1, notes);
        if (taken.Count > 1 && !StandTogether(rows, columns, taken))
        {
            taken = One(path, taken, notes);
        }

        return new LongTable
        {
            Separator = table.Separator,
            HeaderLine = headerLine,
            Times = [.. columns.Times.Select(t => (t, table.Header[t]))],
            Names = columns.Names,
            Value = columns.Value,
            Unit = columns.Unit,
            Taken = taken,
            Notes = notes,
        };
    }

    private static List<LongSeries> SeriesOf(List<string[]> rows, LongColumns columns, string valueHeader)
    {
        LogQuantity ofValue = HeaderText.Parse(valueHeader).Quantity;
        var series = new Dictionary<(string Name, UnitKind? Kind), LongSeries>();
        foreach (string[] row in rows)
        {
            string name = LongTable.NameOf(row, columns.Names);
            string unit = columns.Unit < 0 ? "" : row[columns.Unit];
            UnitKind? kind = LongSeries.KindOf(unit);
            if (series.Count > MostSeries || series.ContainsKey((name, kind))
                || (columns.Unit >= 0 && kind is null && series.Keys.Any(k => k.Name == name)))
            {
                continue;
            }

            LogQuantity quantity = kind is UnitKind measured ? HeaderText.QuantityOf(measured) : HeaderText.Parse(name).Quantity;
            series.Add((name, kind),
                new LongSeries(name, quantity == LogQuantity.Ignored
                ? ofValue
                : quantity, unit, HeaderOf(name, unit, ofValue == LogQuantity.Ignored ? "" : valueHeader)));
        }

        return [.. series.Values.Where(s => s.Quantity >= LogQuantity.Voltage)];
    }

    private static string HeaderOf(string name, string unit, string valueHeader)
    {
        string plain = LineStream.Field(name);
        foreach (char bracket in unit.Length > 0 || valueHeader.Length > 0 ? "()[]" : "")
        {
            plain = plain.Replace(bracket, ' ');
        }

        return unit.Length > 0 ? $"{(plain.Length > 0 ? plain : "value")} ({unit})" : $"{plain} {valueHeader}".Trim();
    }

    // Several series of one quantity are different devices, or a reading and its relatives: the plainest name is taken where one name is
    // plainer than all others.
    private static List<LongSeries> Choose(string path, List<LongSeries> all, string? wanted, bool severalNames, List<string> notes)
    {
        List<LongSeries> series = all;
        if (wanted is not null)
        {
            List<LongSeries> exact = [.. all.Where(s => s.Name.Equals(wanted, StringComparison.OrdinalIgnoreCase))];
            exact = exact.Count > 0
                ? exact
                : [.. all.Where(s => $" {s.Name} ".Contains($" {wanted} ", StringComparison.OrdinalIgnoreCase))];
            series = exact.Count > 0 ? exact : [.. all.Where(s => s.Name.Contains(wanted, StringComparison.OrdinalIgnoreCase))];
            if (series.Count == 0)
            {
                throw LogErrors.NoSuchSeries(path, wanted, [.. all.Select(s => s.Shown)]);
            }
        }

        List<LongSeries> taken = [];
        foreach (var group in series.GroupBy(s => s.Quantity).OrderBy(g => g.Key))
        {
            var ranked = group.OrderByDescending(s => HeaderText.Parse(s.Header).Rank).ToList();
            if (ranked.Count == 1 || HeaderText.Parse(ranked[0].Header).Rank > HeaderText.Parse(ranked[1].Header).Rank)
            {
                taken.Add(ranked[0]);
            }
            else if (Needs(group.Key, series))
            {
                throw LogErrors.SeveralSeries(path, StableName.Of(group.Key), Short([.. ranked.Select(s => s.Shown)], severalNames));
            }
        }

        string[] left = [.. all.Except(taken).Select(s => s.Shown)];
        if (left.Length > 0)
        {
            notes.Add(
                $"Of the series in the log {LogErrors.List(taken.Select(s => s.Shown))} {(taken.Count == 1 ? "was" : "were")} taken, not "
                + $"{LogErrors.List(left)}.");
        }

        return taken;
    }

    // Where a device and a quantity name the series, the device's name chooses all that is its.
    private static string[] Short(string[] names, bool severalNames)
    {
        string[][] words = [.. names.Select(n => n.Split(' '))];
        int[] own = [.. Enumerable.Range(0, words.Min(w => w.Length)).Where(i => words.Any(w => w[i] != words[0][i]))];
        return severalNames && own.Length > 0 && words.All(w => w.Length == words[0].Length)
            ? [.. words.Select(w => string.Join(' ', own.Select(i => w[i])))]
            : names;
    }

    // What energy rests on: power before a counter, a counter before voltage and current.
    private static bool Needs(LogQuantity quantity, List<LongSeries> series)
    {
        bool Has(LogQuantity q) => series.Exists(s => s.Quantity == q);
        return Has(LogQuantity.Power) ? quantity == LogQuantity.Power
            : Has(LogQuantity.Energy) ? quantity == LogQuantity.Energy
            : quantity is LogQuantity.Voltage or LogQuantity.Current or LogQuantity.Charge or LogQuantity.ApparentPower;
    }

    private static bool StandTogether(List<string[]> rows, LongColumns columns, List<LongSeries> taken)
    {
        int groups = 0, complete = 0;
        string time = "";
        HashSet<(string, UnitKind?)> seen = [];
        foreach (string[] row in rows)
        {
            var name = (LongTable.NameOf(row, columns.Names), columns.Unit < 0 ? null : LongSeries.KindOf(row[columns.Unit]));
            string rowTime = string.Join('\t', columns.Times.Select(t => row[t]));
            if (rowTime != time || seen.Contains(name))
            {
                groups++;
                complete += seen.Count == taken.Count ? 1 : 0;
                seen.Clear();
                time = rowTime;
            }

            if (taken.Exists(s => s.Key == name))
            {
                seen.Add(name);
            }
        }

        complete += seen.Count == taken.Count ? 1 : 0;
        return complete >= TogetherShare * Math.Max(1, groups);
    }

    private static List<LongSeries> One(string path, List<LongSeries> taken, List<string> notes)
    {
        foreach (LogQuantity quantity in new[] { LogQuantity.Power, LogQuantity.Energy, LogQuantity.Charge })
        {
            if (taken.Find(s => s.Quantity == quantity) is LongSeries one)
            {
                notes.Add($"Only {LogErrors.Quote(one.Shown)} was read: the other series have rows at other times.");
                return [one];
            }
        }

        throw LogErrors.SeriesApart(path, [.. taken.Select(s => s.Shown)]);
    }
}
