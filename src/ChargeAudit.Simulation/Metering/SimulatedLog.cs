using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Metering;

/// <summary>The log that a meter wrote of one run.</summary>
public sealed record SimulatedLog
{
    /// <summary>Name of the file.</summary>
    public required string FileName { get; init; }

    /// <summary>The meter.</summary>
    public required MeterModel Meter { get; init; }

    /// <summary>The text of the file.</summary>
    public required string Text { get; init; }

    /// <summary>How far the meter's clock was ahead at the run's start. [s]</summary>
    public required double ClockAheadS { get; init; }

    /// <summary>Rows written.</summary>
    public required int Rows { get; init; }

    /// <summary>Rows that were lost, in a gap or one by one.</summary>
    public required int RowsLost { get; init; }

    /// <summary>What went wrong on purpose; null: nothing.</summary>
    public LogMishap? Mishap { get; init; }
}
