using ChargeAudit.LogMaker.Chargers;

namespace ChargeAudit.LogMaker.Meters;

/// <summary>What a meter's rows stand for.</summary>
public enum RowKind
{
    Instantaneous,
    AverageEnding,
    AverageStarting,
    OnChange,
    CounterOnly,
}

/// <summary>A limit of error as data sheets state it: a share of the reading and a fixed part, in the quantity's unit.</summary>
/// <param name="Gain">[1]</param>
/// <param name="Offset">In the quantity's unit.</param>
public readonly record struct Limit(double Gain, double Offset);

/// <summary>A meter: what its data sheet says, and what it truly does within that.</summary>
public sealed record MeterSheet
{
    public required string Name { get; init; }

    public required Place Place { get; init; }

    public required RowKind Kind { get; init; }

    /// <summary>From one row to the next, or from one look to the next where rows are written on change. [s]</summary>
    public required double IntervalS { get; init; }

    /// <summary>Stated limits. A wall meter has one of power, a meter on DC those of voltage and current.</summary>
    public Limit PowerLimit { get; init; }

    public Limit VoltageLimit { get; init; }

    public Limit CurrentLimit { get; init; }

    /// <summary>The errors it has, anywhere within the limits.</summary>
    public Limit PowerError { get; init; }

    public Limit VoltageError { get; init; }

    public Limit CurrentError { get; init; }

    /// <summary>Standard deviations from reading to reading. [W], [V], [A]</summary>
    public double PowerNoise { get; init; }

    public double VoltageNoise { get; init; }

    public double CurrentNoise { get; init; }

    /// <summary>What readings are rounded to. [W], [V], [A]</summary>
    public double PowerStep { get; init; }

    public double VoltageStep { get; init; }

    public double CurrentStep { get; init; }

    /// <summary>Whether the data sheet states the step of power besides the limits.</summary>
    public bool StepStated { get; init; }

    /// <summary>Whether a meter on DC writes its power as well.</summary>
    public bool WritesPower { get; init; }

    /// <summary>Whether readings of power are cut down to a step instead of rounded to the nearest.</summary>
    public bool CutsDown { get; init; }

    /// <summary>Whether its current counts the wrong way round.</summary>
    public bool Reversed { get; init; }

    /// <summary>Share of its rows that get lost, here and there. [1]</summary>
    public double RowsLost { get; init; }

    /// <summary>What its energy counter moves by; zero where it has none. [Wh]</summary>
    public double CounterStepWh { get; init; }

    /// <summary>Least change of power that writes a row. [W]</summary>
    public double ReportsW { get; init; }

    /// <summary>How far its clock is ahead. [s]</summary>
    public double AheadS { get; init; }

    /// <summary>Its times are up to this share of an interval late. [1]</summary>
    public double Jitter { get; init; }

    public bool OnDirectCurrent => Place == Place.Usb && Kind != RowKind.CounterOnly;

    /// <summary>What the energy counter counts for each watt-hour. [1]</summary>
    public double CounterGain => OnDirectCurrent ? (1 + VoltageError.Gain) * (1 + CurrentError.Gain) : 1 + PowerError.Gain;

    /// <summary>The power this meter would show without noise and steps, for the power, voltage and current there are. [W]</summary>
    public double Shown(double powerW, double voltage, double current) => OnDirectCurrent
        ? (powerW * (1 + VoltageError.Gain) * (1 + CurrentError.Gain)) + (VoltageError.Offset * (1 + CurrentError.Gain) * current)
            + (CurrentError.Offset * (1 + VoltageError.Gain) * voltage) + (VoltageError.Offset * CurrentError.Offset)
        : (powerW * (1 + PowerError.Gain)) + PowerError.Offset;
}
