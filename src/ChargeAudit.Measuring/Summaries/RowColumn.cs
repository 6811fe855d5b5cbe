using System.Text.Json.Serialization;
using ChargeAudit.Metrology;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>How a column of rows is written: as decimals of its unit, times as whole numbers of a unit of theirs, or bit by bit.</summary>
/// <param name="Quantity">What it holds.</param>
/// <param name="Digits">Decimal places of the printed unit, below zero: zeros that are left out; null: the bits of the readings.</param>
/// <param name="Factor">Coherent units per printed unit.</param>
/// <param name="Missing">Whether some rows lack it.</param>
internal sealed record RowColumn(LogQuantity Quantity, int? Digits, double Factor, bool Missing)
{
    // As many digits as a whole number of 64 bits holds.
    private const int Precision = 18;
    private const int LeastPower = -9;
    private const int TickPower = -7;

    private static readonly double[] Tens = [1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];

    /// <summary>Of times: the whole number of the first row, where a log counts from midnight and not from there.</summary>
    public long Origin { get; init; }

    /// <summary>The form; null where readings are written bit by bit.</summary>
    [JsonIgnore]
    public ScaledDecimals? Form => Digits is { } digits ? new ScaledDecimals(digits, Factor) : null;

    /// <summary>Its name in the table, with the unit of what stands there.</summary>
    [JsonIgnore]
    public string Name => Quantity switch
    {
        LogQuantity.Time => Scale switch { 3 => "time_ms", 6 => "time_us", 9 => "time_ns", _ => "time_s" },
        LogQuantity.Voltage => "voltage_v",
        LogQuantity.Current => "current_a",
        LogQuantity.Power => "power_w",
        LogQuantity.ApparentPower => "apparent_power_va",
        LogQuantity.PowerFactor => "power_factor",
        _ => InWattHours ? "counter_wh" : "counter_j",
    };

    [JsonIgnore]
    private bool InWattHours => Quantity == LogQuantity.Energy && Digits is not null && PowerOfTen(Factor / Joules.PerWattHour) is not null;

    /// <summary>How a column of readings is written best.</summary>
    /// <param name="quantity">What it holds.</param>
    /// <param name="values">The readings, NaN where one is missing. [coherent unit]</param>
    /// <param name="printed">Coherent units per unit of the log's column.</param>
    public static RowColumn Of(LogQuantity quantity, ReadOnlySpan<double> values, double printed)
    {
        bool missing = Missed(values) > 0;
        foreach (double factor in (double[])(printed == 1 ? [1] : [1, printed]))
        {
            // The decimal point stands where the table's unit wants it, at one of the digits.
            var column = new RowColumn(quantity, 0, factor, missing);
            if (column.Shift is { } shift && ScaledDecimals.TryFind(values, factor, Math.Max(0, shift)) is { } form)
            {
                return column with { Digits = form.Digits };
            }
        }

        return new RowColumn(quantity, null, 1, missing);
    }

    /// <summary>How times are written best: those of logs come in whole seconds, or thousandths and so on.</summary>
    /// <param name="timesS">The times. [s]</param>
    /// <param name="start">When the log starts; null where it holds only elapsed time.</param>
    public static RowColumn OfTimes(ReadOnlySpan<double> timesS, DateTimeOffset? start)
    {
        long ticks = (start?.UtcTicks ?? 0) % TimeSpan.TicksPerDay;
        for (int scale = 0; scale <= ScaledDecimals.MostDigits; scale += 3)
        {
            // As numbers, as whole milliseconds, and as ticks of a stamp, of which the reader takes the first row's.
            foreach (int shift in (int[])[0, -3, TickPower])
            {
                var column = new RowColumn(LogQuantity.Time, scale + shift, Tens[shift - LeastPower], false);
                var counted = column with { Origin = column.Form!.Value.Whole(ticks * Tens[TickPower - LeastPower]) };
                if (column.Hold(timesS))
                {
                    return column;
                }

                if (shift == TickPower && counted.Hold(timesS))
                {
                    return counted;
                }
            }
        }

        return new RowColumn(LogQuantity.Time, null, 1, false);
    }

    /// <summary>The time that a whole number stands for. [s]</summary>
    public double TimeS(long whole) => Form!.Value.Value(whole + Origin) - Form!.Value.Value(Origin);

    /// <summary>The whole number that stands for a time.</summary>
    public long WholeOf(double timeS) => Form!.Value.Whole(timeS + Form!.Value.Value(Origin)) - Origin;

    /// <summary>How many readings are missing.</summary>
    public static int Missed(ReadOnlySpan<double> values)
    {
        int missed = 0;
        foreach (double value in values)
        {
            missed += double.IsNaN(value) ? 1 : 0;
        }

        return missed;
    }

    /// <summary>The column of the table.</summary>
    /// <exception cref="InvalidDataException">There is none.</exception>
    public DataField Field() => Digits is null ? new DataField<double>(Name, Missing)
        : Scale is >= 0 and <= Precision ? Quantity == LogQuantity.Time ? new DataField<long>(Name, false)
            : new DecimalDataField(Name, Precision, Scale, isNullable: Missing)
        : throw new InvalidDataException($"the scale of its column {Name} cannot be");

    /// <summary>The number in the table for a whole number.</summary>
    public decimal Written(long whole) => new(
        (int)(Math.Abs(whole) & uint.MaxValue), (int)(Math.Abs(whole) >> 32), 0, whole < 0, (byte)Scale);

    /// <summary>The whole number of a number in the table.</summary>
    /// <exception cref="InvalidDataException">It is of another scale.</exception>
    public long Whole(decimal written)
    {
        Span<int> parts = stackalloc int[4];
        decimal.GetBits(written, parts);
        long whole = (long)(uint)parts[0] | ((long)parts[1] << 32);
        for (int scale = written.Scale; scale < Scale; scale++)
        {
            whole = checked(whole * 10);
        }

        return parts[2] == 0 && parts[1] >= 0 && written.Scale <= Scale ? parts[3] < 0 ? -whole : whole
            : throw new InvalidDataException($"a number of its column {Name} cannot be");
    }

    private bool Hold(ReadOnlySpan<double> timesS)
    {
        foreach (double timeS in timesS)
        {
            if (BitConverter.DoubleToInt64Bits(TimeS(WholeOf(timeS))) != BitConverter.DoubleToInt64Bits(timeS))
            {
                return false;
            }
        }

        return true;
    }

    // Decimal places in the table's unit.
    [JsonIgnore]
    private int Scale => Digits is >= -ScaledDecimals.MostDigits and <= ScaledDecimals.MostDigits && Shift is { } shift
        ? Digits.Value - shift
        : -1;

    // Powers of ten from the printed unit to that of the table; null where it is another number.
    [JsonIgnore]
    private int? Shift => PowerOfTen(Factor) ?? (Quantity == LogQuantity.Energy ? PowerOfTen(Factor / Joules.PerWattHour) : null);

    private static int? PowerOfTen(double factor)
    {
        int at = Array.FindIndex(Tens, t => Math.Abs(factor - t) <= 1e-12 * t);
        return at < 0 ? null : at + LeastPower;
    }
}
