using System.Security.Cryptography;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>The rows of a log as the table of its summary: times, and readings in their units, each as the decimal that
/// the log prints.</summary>
/// <param name="columns">How its columns are written; that of the times first.</param>
/// <param name="count">Number of rows.</param>
internal sealed class RowTable(IReadOnlyList<RowColumn> columns, int count) : SummaryTable
{
    private const string LineColumn = "line";
    private const string MarksColumn = "marks";

    // The envelope counts its cells in whole numbers: beyond this a time has none.
    private const double FurthestS = 1L << 40;

    private readonly double[][] _values = [.. columns.Select(_ => new double[count])];
    private readonly long[] _lines = new long[count];
    private readonly int[] _marks = new int[count];

    /// <summary>How the columns are written.</summary>
    public IReadOnlyList<RowColumn> Columns => columns;

    /// <inheritdoc/>
    public override IReadOnlyDictionary<string, EncodingHint> Encodings
    {
        get
        {
            var hints = new Dictionary<string, EncodingHint>
            {
                [LineColumn] = EncodingHint.DeltaBinaryPacked,
                [MarksColumn] = EncodingHint.DeltaBinaryPacked,
            };
            hints[columns[0].Name] = columns[0].Digits is null ? EncodingHint.ByteSplitStream : EncodingHint.DeltaBinaryPacked;
            return hints;
        }
    }

    /// <summary>The table of rows that were kept; null where it would not bring them back.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="layout">The log's columns.</param>
    public static RowTable? Of(KeptRows rows, LogLayout layout)
    {
        var columns = new List<RowColumn> { RowColumn.OfTimes(rows.TimesS, layout.Start) };
        var values = new List<double[]> { rows.TimesS.ToArray() };
        for (int i = 0; i < rows.Quantities.Count; i++)
        {
            var readings = rows.Of(i);
            if (RowColumn.Missed(readings) < readings.Length)
            {
                var quantity = rows.Quantities[i];
                columns.Add(RowColumn.Of(quantity, readings, layout.Columns.FirstOrDefault(c => c.Quantity == quantity)?.Factor ?? 1));
                values.Add(readings.ToArray());
            }
        }

        var table = new RowTable(columns, rows.Count);
        for (int i = 0; i < values.Count; i++)
        {
            table._values[i] = values[i];
        }

        rows.Lines.CopyTo(table._lines);
        rows.Marks.CopyTo(table._marks);
        return table.Fault() is null ? table : null;
    }

    /// <summary>The rows.</summary>
    /// <param name="rules">The rules by which they are summed.</param>
    /// <exception cref="InvalidDataException">No log holds such rows.</exception>
    public KeptRows Rows(SummaryRules rules)
    {
        var readings = columns.Skip(1).Select((c, i) => (c.Quantity, Values: _values[i + 1])).ToDictionary(c => c.Quantity, c => c.Values);
        bool areOthers = readings.Keys.Except(KeptRows.QuantitiesOf(rules.Source)).Any();
        string? fault = Fault() ?? (areOthers ? "its columns are not those of its source of power" : null);
        return fault is not null
            ? throw new InvalidDataException(fault)
            : new KeptRows(rules, _values[0], _lines, _marks, readings);
    }

    /// <inheritdoc/>
    public override IReadOnlyList<DataField> Fields() =>
        [columns[0].Field(), new DataField<long>(LineColumn, false), new DataField<int>(MarksColumn, false), .. columns.Skip(1)
            .Select(c => c.Field())];

    /// <inheritdoc/>
    public override async Task WriteAsync(ParquetRowGroupWriter group, DataField[] fields)
    {
        await WriteAsync(group, fields[0], 0).ConfigureAwait(false);
        await group.WriteAsync<long>(fields[1], _lines).ConfigureAwait(false);
        await group.WriteAsync<int>(fields[2], _marks).ConfigureAwait(false);
        for (int i = 1; i < columns.Count; i++)
        {
            await WriteAsync(group, fields[i + 2], i).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public override async Task ReadAsync(ParquetRowGroupReader group, DataField[] fields)
    {
        await ReadAsync(group, fields[0], 0).ConfigureAwait(false);
        await group.ReadAsync<long>(fields[1], _lines.AsMemory()).ConfigureAwait(false);
        await group.ReadAsync<int>(fields[2], _marks.AsMemory()).ConfigureAwait(false);
        for (int i = 1; i < columns.Count; i++)
        {
            await ReadAsync(group, fields[i + 2], i).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public override void AddTo(IncrementalHash hash)
    {
        Add<long>(hash, _lines);
        Add<int>(hash, _marks);
        foreach (double[] values in _values)
        {
            Add<double>(hash, values);
        }
    }

    private async Task WriteAsync(ParquetRowGroupWriter group, DataField field, int index)
    {
        double[] values = _values[index];
        bool missing = columns[index].Missing;
        if (columns[index].Form is not { } form)
        {
            await (missing ? group.WriteAsync<double>(field, Array.ConvertAll(values, v => double.IsNaN(v) ? (double?)null : v))
                : group.WriteAsync<double>(field, values)).ConfigureAwait(false);
            return;
        }

        if (columns[index].Quantity == LogQuantity.Time)
        {
            await group.WriteAsync<long>(field, Array.ConvertAll(values, columns[index].WholeOf)).ConfigureAwait(false);
            return;
        }

        decimal Written(double value) => columns[index].Written(form.Whole(value));
        await (missing ? group.WriteAsync<decimal>(field, Array.ConvertAll(values, v => double.IsNaN(v) ? (decimal?)null : Written(v)))
            : group.WriteAsync<decimal>(field, Array.ConvertAll(values, Written))).ConfigureAwait(false);
    }

    private async Task ReadAsync(ParquetRowGroupReader group, DataField field, int index)
    {
        double[] values = _values[index];
        var column = columns[index];
        if (column.Form is not { } form)
        {
            if (!column.Missing)
            {
                await group.ReadAsync<double>(field, values.AsMemory()).ConfigureAwait(false);
                return;
            }

            double?[] some = new double?[values.Length];
            await group.ReadAsync<double>(field, some.AsMemory()).ConfigureAwait(false);
            Fill(values, some, v => v);
        }
        else if (column.Quantity == LogQuantity.Time)
        {
            long[] all = new long[values.Length];
            await group.ReadAsync<long>(field, all.AsMemory()).ConfigureAwait(false);
            for (int i = 0; i < all.Length; i++)
            {
                values[i] = column.TimeS(all[i]);
            }
        }
        else if (column.Missing)
        {
            decimal?[] some = new decimal?[values.Length];
            await group.ReadAsync<decimal>(field, some.AsMemory()).ConfigureAwait(false);
            Fill(values, some, v => form.Value(column.Whole(v)));
        }
        else
        {
            decimal[] all = new decimal[values.Length];
            await group.ReadAsync<decimal>(field, all.AsMemory()).ConfigureAwait(false);
            for (int i = 0; i < all.Length; i++)
            {
                values[i] = form.Value(column.Whole(all[i]));
            }
        }
    }

    private static void Fill<T>(double[] values, T?[] some, Func<T, double> value)
        where T : struct
    {
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = some[i] is { } there ? value(there) : double.NaN;
        }
    }

    // Why no log holds such rows.
    private string? Fault()
    {
        if (columns[0] is not { Quantity: LogQuantity.Time, Missing: false } || columns.Skip(1).Any(c => c.Quantity == LogQuantity.Time)
            || columns.DistinctBy(c => c.Quantity).Count() != columns.Count)
        {
            return "its columns are not those of a log";
        }

        double before = double.NegativeInfinity;
        foreach (double timeS in _values[0])
        {
            if (!(Math.Abs(timeS) < FurthestS && timeS >= before))
            {
                return "the times of its rows do not rise";
            }

            before = timeS;
        }

        return count > KeptRows.Most ? "it holds more rows than are kept"
            : _marks.AsSpan().ContainsAnyExceptInRange(0, KeptRows.AfterBreak | KeptRows.StartsPiece) ? "the marks of its rows cannot be"
            : null;
    }
}
