using System.Globalization;
using ChargeAudit.Logs.Streams;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Logs.Formats;

/// <summary>Apache Parquet files of flat columns; one row group is held at a time.</summary>
/// <remarks>*Source:* Apache Parquet format, LogicalTypes: a timestamp that is not adjusted to UTC is local time.</remarks>
internal sealed class ParquetLog : ILogFormat
{
    public string Name => "parquet";

    public bool Recognises(ReadOnlySpan<byte> head) => head.StartsWith("PAR1"u8);

    public FormatTable Open(IStoredLog source) => new(Rows(source), null, false, []);

    private static IEnumerable<string> Rows(IStoredLog source)
    {
        using Stream raw = source.OpenRaw();
        Guarded(source, () => ParquetBounds.Check(source.Path, raw));
        ParquetReader reader = Guard(source, () => ParquetReader.CreateAsync(raw, leaveStreamOpen: true));
        try
        {
            if (Guarded(source, () => reader.CustomMetadata.ContainsKey(ParquetMarks.SummaryKey)))
            {
                throw LogErrors.SummaryIsNoLog(source.Path);
            }

            DataField[] fields =
                Guarded(source, () => (DataField[])[.. reader.Schema.DataFields.Where(f => !f.IsArray && f.MaxRepetitionLevel == 0)]);
            if (fields.Length == 0)
            {
                throw LogErrors.NoTable(source.Path);
            }

            yield return string.Join('\t', fields.Select(f => LineStream.Field(f.Name)));
            for (int i = 0; i < reader.RowGroupCount; i++)
            {
                int at = i;
                using ParquetRowGroupReader rows = Guarded(source, () => reader.OpenRowGroupReader(at));
                Func<int, string>[] columns = [.. fields.Select(f => Guard(source, () => Column(rows, f)))];
                for (int row = 0; row < rows.RowCount; row++)
                {
                    yield return string.Join('\t', columns.Select(c => c(row)));
                }
            }
        }
        finally
        {
            Guard(source, async () =>
            {
                await reader.DisposeAsync();
                return 0;
            });
        }
    }

    private static async Task<Func<int, string>> Column(ParquetRowGroupReader rows, DataField field)
    {
        // The reader fills what a column does not hold with whatever lay in its memory.
        if (rows.GetMetadata(field)?.MetaData is not { } claimed || claimed.NumValues != rows.RowCount)
        {
            throw new InvalidDataException($"its column {field.Name} does not hold one value a row");
        }

        if (await ParquetFields.Column(rows, field) is Func<int, string> special)
        {
            return special;
        }

        Type type = Nullable.GetUnderlyingType(field.ClrType) ?? field.ClrType;
        return Type.GetTypeCode(type) switch
        {
            TypeCode.Double => await Numbers<double>(rows, field),
            TypeCode.Single => await Numbers<float>(rows, field),
            TypeCode.Byte => await Numbers<byte>(rows, field),
            TypeCode.SByte => await Numbers<sbyte>(rows, field),
            TypeCode.Int16 => await Numbers<short>(rows, field),
            TypeCode.UInt16 => await Numbers<ushort>(rows, field),
            TypeCode.Int32 => await Numbers<int>(rows, field),
            TypeCode.UInt32 => await Numbers<uint>(rows, field),
            TypeCode.Int64 => await Numbers<long>(rows, field),
            TypeCode.UInt64 => await Numbers<ulong>(rows, field),
            TypeCode.Decimal => await Numbers<decimal>(rows, field),
            _ => static _ => "",
        };
    }

    private static Task<Func<int, string>> Numbers<T>(ParquetRowGroupReader rows, DataField field)
        where T : struct, IFormattable => Values<T>(rows, field, v => v.ToString(null, CultureInfo.InvariantCulture));

    private static async Task<Func<int, string>> Values<T>(ParquetRowGroupReader rows, DataField field, Func<T, string> text)
        where T : struct
    {
        if (!field.IsNullable)
        {
            var plain = new T[rows.RowCount];
            await rows.ReadAsync<T>(field, plain);
            return i => text(plain[i]);
        }

        var values = new T?[rows.RowCount];
        await rows.ReadAsync<T>(field, values.AsMemory());
        return i => values[i] is T value ? text(value) : "";
    }

    private static void Guarded(IStoredLog source, Action check) => Guarded(source, () =>
    {
        check();
        return 0;
    });

    private static T Guarded<T>(IStoredLog source, Func<T> read) => Guard(source, () => Task.FromResult(read()));

    private static T Guard<T>(IStoredLog source, Func<Task<T>> read)
    {
        try
        {
            return read().GetAwaiter().GetResult();
        }
        catch (Exception e) when (e is not (Metrology.Diagnostics.InputException or OperationCanceledException or OutOfMemoryException))
        {
            throw LogErrors.Corrupt(source.Path, "Parquet", e);
        }
    }
}
