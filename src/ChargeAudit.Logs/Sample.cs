namespace ChargeAudit.Logs;

/// <summary>
/// One row of a log after reading, in coherent units. A quantity that the log does not hold, or not in this row, is NaN.
/// Times never decrease from one sample to the next.
/// </summary>
public readonly record struct Sample
{
    /// <summary>Time since the log's first sample, summer time and clock steps taken out. [s]</summary>
    public double TimeS { get; init; }

    /// <summary>Voltage. [V]</summary>
    public double VoltageV { get; init; }

    /// <summary>Current. [A]</summary>
    public double CurrentA { get; init; }

    /// <summary>Real power from a power column. [W]</summary>
    public double PowerW { get; init; }

    /// <summary>Apparent power from a column. [VA]</summary>
    public double ApparentPowerVA { get; init; }

    /// <summary>Power factor. [1]</summary>
    public double PowerFactor { get; init; }

    /// <summary>Reading of the energy counter. [J]</summary>
    public double EnergyCounterJ { get; init; }

    /// <summary>Reading of the charge counter. [C]</summary>
    public double ChargeCounterC { get; init; }

    /// <summary>Temperature. [°C]</summary>
    public double TemperatureC { get; init; }

    /// <summary>Line number in its file, counted from 1.</summary>
    public long Line { get; init; }

    /// <summary>Set where the clock was set between the sample before and this one: the time between them is not known and counts as a
    /// gap.</summary>
    public bool AfterClockStep { get; init; }

    /// <summary>Set where the log says that the sensor was away between the sample before, which ends what was held, and this one: that
    /// time is a gap, however long.</summary>
    public bool AfterAway { get; init; }

    /// <summary>A sample that holds nothing but its time.</summary>
    public static Sample Empty(double timeS, long line) => new()
    {
        TimeS = timeS,
        Line = line,
        VoltageV = double.NaN,
        CurrentA = double.NaN,
        PowerW = double.NaN,
        ApparentPowerVA = double.NaN,
        PowerFactor = double.NaN,
        EnergyCounterJ = double.NaN,
        ChargeCounterC = double.NaN,
        TemperatureC = double.NaN,
    };
}

/// <summary>Takes samples one by one while a log is read. Implement it as a struct: the reader is then compiled for it and a call costs
/// nothing.</summary>
public interface ISampleSink
{
    /// <summary>Takes the next sample.</summary>
    void Add(in Sample sample);
}
