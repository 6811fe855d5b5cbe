using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Rows that follow one another line by line, in rising time and without a fault, as columns: a sink that sums column by column keeps its
/// sums in registers. Every value is a finite number. Valid only during the call that it is handed to.
/// </summary>
public readonly ref struct RowBlock
{
    private readonly ReadOnlySpan<double[]?> _columns;

    internal RowBlock(ReadOnlySpan<double> timesS, ReadOnlySpan<double[]?> columns, long firstLine)
    {
        TimesS = timesS;
        _columns = columns;
        FirstLine = firstLine;
    }

    /// <summary>Rows in the block.</summary>
    public int Count => TimesS.Length;

    /// <summary>Times since the log's first sample. [s]</summary>
    public ReadOnlySpan<double> TimesS { get; }

    /// <summary>Line number of the first row.</summary>
    public long FirstLine { get; }

    /// <summary>Values of a quantity in its coherent unit; empty where the log does not hold it.</summary>
    public ReadOnlySpan<double> Of(LogQuantity quantity) => _columns[quantity - TextRows.FirstSlot] is { } column
        ? column.AsSpan(0, Count)
        : default;

    /// <summary>One row as a sample.</summary>
    /// <param name="index">Its place in the block, from 0.</param>
    public Sample Row(int index) => new()
    {
        TimeS = TimesS[index],
        VoltageV = Value(LogQuantity.Voltage, index),
        CurrentA = Value(LogQuantity.Current, index),
        PowerW = Value(LogQuantity.Power, index),
        ApparentPowerVA = Value(LogQuantity.ApparentPower, index),
        PowerFactor = Value(LogQuantity.PowerFactor, index),
        EnergyCounterJ = Value(LogQuantity.Energy, index),
        ChargeCounterC = Value(LogQuantity.Charge, index),
        TemperatureC = Value(LogQuantity.Temperature, index),
        Line = FirstLine + index,
    };

    private double Value(LogQuantity quantity, int index) => _columns[quantity - TextRows.FirstSlot] is { } column
        ? column[index]
        : double.NaN;
}
