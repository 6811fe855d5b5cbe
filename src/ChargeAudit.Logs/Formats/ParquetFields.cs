using System.Globalization;
using System.Text;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology;
using Parquet;
using Parquet.File.Values.Primitives;
using Parquet.Schema;

namespace ChargeAudit.Logs.Formats;

/// <summary>Columns of a Parquet file whose values are neither plain numbers nor plain stamps: dates, times of day, lengths of time, texts
/// and bytes.</summary>
/// <remarks>*Source:* Apache Parquet format, LogicalTypes: DATE, TIME (ms, µs, ns since midnight), INTERVAL (months, days, ms),
/// STRING.</remarks>
internal static class ParquetFields
{
    private const double LongestDayNs = 48 * 3600e9;
    private const int MostDays = 100_000;
    private const string Clock = @"hh\:mm\:ss\.fffffff";

    /// <summary>The column's values as texts.</summary>
    /// <returns>Null where it is none of these.</returns>
    public static async Task<Func<int, string>?> Column(ParquetRowGroupReader rows, DataField field)
    {
        Type type = Nullable.GetUnderlyingType(field.ClrType) ?? field.ClrType;
        return field switch
        {
            TimeDataField { Precision: var unit } when type == typeof(int) =>
                Of(await Values<int>(rows, field), v => OfDay(v, unit.ToString())),
            TimeDataField { Precision: var unit } => Of(await Values<long>(rows, field), v => OfDay(v, unit.ToString())),
            DateTimeDataField { DateTimeFormat: DateTimeFormat.Date } =>
                Of(await Values<DateTime>(rows, field), d => d.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            DateTimeDataField stamp => await Stamps(rows, stamp),
            _ when type == typeof(Interval) => Of(await Values<Interval>(rows, field), Length),
            _ when type == typeof(ReadOnlyMemory<char>) || type == typeof(string) => await Texts(rows, field),
            _ when type == typeof(ReadOnlyMemory<byte>) || type == typeof(byte[]) => await Bytes(rows, field),
            _ => null,
        };
    }

    private static Func<int, string> Of<T>(T?[] values, Func<T, string> text)
        where T : struct => i => values[i] is T value ? text(value) : "";

    private static async Task<T?[]> Values<T>(ParquetRowGroupReader rows, DataField field)
        where T : struct
    {
        if (field.IsNullable)
        {
            var values = new T?[rows.RowCount];
            await rows.ReadAsync<T>(field, values.AsMemory());
            return values;
        }

        var plain = new T[rows.RowCount];
        await rows.ReadAsync<T>(field, plain);
        return Array.ConvertAll(plain, v => (T?)v);
    }

    // Some producers write stamps as differences, which the library unpacks as whole numbers only.
    private static async Task<Func<int, string>> Stamps(ParquetRowGroupReader rows, DateTimeDataField field)
    {
        string form = field.IsAdjustedToUTC ? "yyyy-MM-ddTHH:mm:ss.fffffffZ" : "yyyy-MM-ddTHH:mm:ss.fffffff";
        try
        {
            return Of(await Values<DateTime>(rows, field), t => t.ToString(form, CultureInfo.InvariantCulture));
        }
        catch (NotSupportedException)
        {
            // The same column under the name of its stored type.
            var stored = new DataField(field.Name, typeof(long), field.IsNullable);
            _ = new ParquetSchema(stored);
            string unit = field.Unit.ToString();
            DateTime?[] stamps = Array.ConvertAll(await Values<long>(rows, stored), v => v is long count
                ? DateTime.UnixEpoch.AddTicks(Ticks(count, unit))
                : (DateTime?)null);
            return Of(stamps, t => t.ToString(form, CultureInfo.InvariantCulture));
        }
    }

    private static async Task<Func<int, string>> Texts(ParquetRowGroupReader rows, DataField field)
    {
        var values = new string?[rows.RowCount];
        await rows.ReadAsync(field, values.AsMemory());
        return i => LineStream.Field(values[i] ?? "");
    }

    // Bytes that are not marked as text are taken as text, as older producers mean them.
    private static async Task<Func<int, string>> Bytes(ParquetRowGroupReader rows, DataField field)
    {
        var values = new byte[]?[rows.RowCount];
        await rows.ReadAsync(field, values.AsMemory());
        return i => values[i] is byte[] bytes ? LineStream.Field(Encoding.UTF8.GetString(bytes)) : "";
    }

    // A time beyond the end of a day is no time of day: the row is passed over and counted.
    private static string OfDay(long count, string unit) =>
        Math.Abs((double)count) < LongestDayNs / NanosecondsOf(unit)
            ? TimeSpan.FromTicks(Ticks(count, unit)).ToString(Clock, CultureInfo.InvariantCulture)
            : "";

    private static double NanosecondsOf(string unit) => unit switch
    {
        "Millis" => 1e6,
        "Nanos" => 1,
        _ => 1e3,
    };

    private static long Ticks(long count, string unit) => unit switch
    {
        "Millis" => checked(count * TimeSpan.TicksPerMillisecond),
        "Nanos" => count / 100,
        _ => checked(count * TimeSpan.TicksPerMicrosecond),
    };

    // A month has no length in seconds, and some days are more than any log lasts; these are left to be counted as unreadable.
    private static string Length(Interval interval)
    {
        if (Math.Abs((long)interval.Days) > MostDays)
        {
            return InvariantText.Of($"{interval.Days} days");
        }

        var span = TimeSpan.FromDays(interval.Days) + TimeSpan.FromMilliseconds(interval.Millis);
        return interval.Months != 0
            ? InvariantText.Of($"{interval.Months} months")
            : $"{((long)span.TotalHours).ToString("00", CultureInfo.InvariantCulture)}:"
                + $"{span.ToString(@"mm\:ss\.fffffff", CultureInfo.InvariantCulture)}";
    }
}
