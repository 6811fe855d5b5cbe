using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.LongTables;

/// <summary>One series of a long table.</summary>
/// <param name="Name">What the rows that belong to it carry, the names of several columns joined by blanks.</param>
/// <param name="Quantity">What it holds.</param>
/// <param name="Unit">Unit of its first row; empty where none is named.</param>
/// <param name="Header">Header of the column that it becomes.</param>
internal sealed record LongSeries(string Name, LogQuantity Quantity, string Unit, string Header)
{
    /// <summary>Name for people.</summary>
    public string Shown => Name.Length > 0 ? Name : Header;

    /// <summary>What tells its rows from others: the name, and what the unit measures.</summary>
    public (string Name, UnitKind? Kind) Key => (Name, KindOf(Unit));

    /// <summary>What a unit measures; null where it is not known.</summary>
    public static UnitKind? KindOf(string unit) => UnitTable.TryFind(unit, out Unit found) ? found.Kind : null;
}

/// <summary>
/// A table with a name, a value and perhaps a unit in each row. Its rows become rows with a column for each series taken: those of one time
/// that follow one another become one, on the line of the last of them; the rows of other series become empty lines.
/// </summary>
internal sealed record LongTable : IReshape
{
    public required char Separator { get; init; }

    public required long HeaderLine { get; init; }

    /// <summary>Header fields of the time, and of the clock time where that is a column of its own.</summary>
    public required IReadOnlyList<(int Index, string Header)> Times { get; init; }

    /// <summary>Columns whose texts together name the series.</summary>
    public required IReadOnlyList<int> Names { get; init; }

    public required int Value { get; init; }

    /// <summary>Column of the unit; −1 for none.</summary>
    public required int Unit { get; init; }

    /// <summary>Series that are taken, in the order of columns.</summary>
    public required IReadOnlyList<LongSeries> Taken { get; init; }

    /// <inheritdoc />
    public required IReadOnlyList<string> Notes { get; init; }

    /// <inheritdoc />
    public string Words => $"a name and a value in each row; taken: {string.Join(", ", Taken.Select(s => LogErrors.Quote(s.Shown)))}";

    /// <inheritdoc />
    public IEnumerable<string> Lines(string path, Stream utf8)
    {
        var order = Taken.Select((s, i) => (s.Key, i)).ToDictionary(s => s.Key, s => s.i);
        int needed = Names.Concat(Times.Select(t => t.Index)).Append(Value).Append(Unit).Max() + 1;
        long number = 0;
        string[]? group = null;
        string time = "";
        int blanksAfter = 0;
        foreach (string line in BoundedLines.Read(path, utf8))
        {
            if (++number <= HeaderLine)
            {
                yield return number < HeaderLine ? "" : string.Join('\t', Times.Select(t => t.Header).Concat(Taken.Select(s => s.Header)));
                continue;
            }

            string[] fields = Cells.Split(line, Separator);
            bool whole = fields.Length >= needed;
            int series = whole ? SeriesOf(fields, order) : -1;
            if (series >= 0 && group is not null && TimeOf(fields) == time && group[series].Length == 0)
            {
                for (int i = 0; i <= blanksAfter; i++)
                {
                    yield return "";
                }

                blanksAfter = 0;
                group[series] = ValueOf(fields, series);
                continue;
            }

            if (series < 0 && (whole || line.Length == 0) && group is not null)
            {
                blanksAfter++;
                continue;
            }

            if (group is not null)
            {
                yield return $"{time}\t{string.Join('\t', group)}";
                for (int i = 0; i < blanksAfter; i++)
                {
                    yield return "";
                }

                (group, blanksAfter) = (null, 0);
            }

            if (series >= 0)
            {
                time = TimeOf(fields);
                group = new string[Taken.Count];
                Array.Fill(group, "");
                group[series] = ValueOf(fields, series);
            }
            else
            {
                // What is not a row of the table is left to be judged as it stands.
                yield return whole ? "" : LineStream.Field(line);
            }
        }

        if (group is not null)
        {
            yield return $"{time}\t{string.Join('\t', group)}";
        }
    }

    /// <summary>The name of the series that a row belongs to.</summary>
    public static string NameOf(string[] fields, IReadOnlyList<int> names) => names.Count == 1
        ? fields[names[0]]
        : string.Join(' ', names.Select(n => fields[n]));

    // A unit that is not known belongs to the series of that name, where its value is then counted as unreadable.
    private int SeriesOf(string[] fields, Dictionary<(string Name, UnitKind? Kind), int> order)
    {
        string name = NameOf(fields, Names);
        UnitKind? kind = Unit < 0 ? null : LongSeries.KindOf(fields[Unit]);
        return order.TryGetValue((name, kind), out int at) ? at
            : Unit >= 0 && kind is null ? Taken.Select((s, i) => (s.Name, i)).Where(s => s.Name == name).Select(s => s.i).FirstOrDefault(-1)
            : -1;
    }

    private string TimeOf(string[] fields) => string.Join('\t', Times.Select(t => LineStream.Field(fields[t.Index])));

    private string ValueOf(string[] fields, int series)
    {
        string value = LineStream.Field(fields[Value]);
        return Unit < 0 || fields[Unit] == Taken[series].Unit || fields[Unit].Length == 0
            ? value
            : $"{value} {LineStream.Field(fields[Unit])}";
    }
}
