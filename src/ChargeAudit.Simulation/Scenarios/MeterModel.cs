using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>How a meter writes the time of a row.</summary>
public enum TimeForm
{
    /// <summary>Seconds from the log's first row.</summary>
    Elapsed,

    /// <summary>Date and time with the offset from UTC.</summary>
    IsoOffset,

    /// <summary>Date and time in UTC, with a Z.</summary>
    IsoUtc,

    /// <summary>Date and time of the place, without offset.</summary>
    IsoLocal,

    /// <summary>Seconds since 1970-01-01 UTC.</summary>
    EpochSeconds,

    /// <summary>Milliseconds since 1970-01-01 UTC.</summary>
    EpochMilliseconds,

    /// <summary>Date and clock time of the place in two columns.</summary>
    DateAndClock,
}

/// <summary>How a meter writes its text.</summary>
public sealed record MeterDialect
{
    /// <summary>Character between fields.</summary>
    public char Separator { get; init; } = ',';

    /// <summary>Point or comma.</summary>
    public char DecimalSign { get; init; } = '.';

    /// <summary>How times are written.</summary>
    public TimeForm Time { get; init; } = TimeForm.Elapsed;

    /// <summary>Header of the time column; of the date's and the clock's, with a bar between, where there are two.</summary>
    public string TimeHeader { get; init; } = "Time";

    /// <summary>Decimal places of the seconds.</summary>
    public int TimeDigits { get; init; }

    /// <summary>Whether lines end in carriage return and line feed.</summary>
    public bool CarriageReturn { get; init; }

    /// <summary>Lines above the header.</summary>
    public IReadOnlyList<string> Preamble { get; init; } = [];
}

/// <summary>A column of a meter's log.</summary>
public sealed record MeterColumn
{
    /// <summary>What it holds: voltage, current, power, apparent power, power factor or the energy counter.</summary>
    public required LogQuantity Quantity { get; init; }

    /// <summary>Words of the header.</summary>
    public required string Header { get; init; }

    /// <summary>Size of the column's unit in the coherent one: 0.001 for mA, 3600 for Wh.</summary>
    public required double Factor { get; init; }

    /// <summary>Step of the display in the column's unit.</summary>
    public required double Step { get; init; }

    /// <summary>Accuracy as a data sheet gives it, for the study file; null: none is stated.</summary>
    public string? Accuracy { get; init; }

    /// <summary>Half-width of the relative error that the accuracy allows. [1]</summary>
    public double GainHalfWidth { get; init; }

    /// <summary>Half-width of the fixed error, in the coherent unit.</summary>
    public double OffsetHalfWidth { get; init; }

    /// <summary>Standard deviation of a reading's own noise, in the coherent unit.</summary>
    public double Noise { get; init; }
}

/// <summary>A meter: where it sits, when it reads, how well, and how it writes.</summary>
public sealed record MeterModel
{
    /// <summary>Name in the scenario and in the study.</summary>
    public required string Name { get; init; }

    /// <summary>Key of the instrument, for the study file; null: none.</summary>
    public string? Instrument { get; init; }

    /// <summary>Where it sits.</summary>
    public required MeasuringPoint Point { get; init; }

    /// <summary>Whether a reading is a moment's value or the mean over the interval.</summary>
    public required SampleKind Samples { get; init; }

    /// <summary>From one row to the next, by the meter's own clock. [s]</summary>
    public required double IntervalS { get; init; }

    /// <summary>Columns after the time.</summary>
    public required IReadOnlyList<MeterColumn> Columns { get; init; }

    /// <summary>How fast its clock runs beyond the true one. [1]</summary>
    public double ClockDrift { get; init; }

    /// <summary>Half-width of the error with which the clock is set, drawn anew for each log. [s]</summary>
    public double ClockSpreadS { get; init; }

    /// <summary>Share of rows that are lost, one by one. [1]</summary>
    public double LostShare { get; init; }

    /// <summary>How it writes.</summary>
    public MeterDialect Dialect { get; init; } = new();
}
