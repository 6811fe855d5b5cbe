namespace ChargeAudit.Simulation.Scenarios;

/// <summary>What goes wrong in one log of a run, on purpose.</summary>
public sealed record LogMishap
{
    /// <summary>Name of the meter.</summary>
    public required string Meter { get; init; }

    /// <summary>How far this log's clock is ahead of the true one. [s]</summary>
    public double ClockAheadS { get; init; }

    /// <summary>Where a stretch without rows starts; NaN: none. [s]</summary>
    public double GapFromS { get; init; } = double.NaN;

    /// <summary>How long that stretch is. [s]</summary>
    public double GapLengthS { get; init; }

    /// <summary>When the energy counter falls to zero; NaN: never. [s]</summary>
    public double CounterResetAtS { get; init; } = double.NaN;
}

/// <summary>Where the device is put on purpose, so that the study says it.</summary>
/// <param name="XM">Distance between the coils' axes along the first direction. [m]</param>
/// <param name="YM">The same along the second direction. [m]</param>
/// <param name="GapM">Distance between the coils' facing layers; null: the pad's own, and the study does not tell it. [m]</param>
public sealed record PlannedPlace(double XM, double YM, double? GapM);

/// <summary>One charge to be simulated; a method that only waits has no battery state.</summary>
public sealed record RunPlan
{
    /// <summary>Method and number, or method and <c>waiting</c>.</summary>
    public required string Id { get; init; }

    /// <summary>The method.</summary>
    public required MethodModel Method { get; init; }

    /// <summary>True time of the start.</summary>
    public required DateTimeOffset Start { get; init; }

    /// <summary>State of charge when the device is put on; null: no device at all. [1]</summary>
    public double? StartShare { get; init; }

    /// <summary>
    /// Half-width within which the true state of charge lies about that one: a device shows whole percent, so nobody starts twice at
    /// exactly the same state. [1]
    /// </summary>
    public double StartSpread { get; init; }

    /// <summary>Charger powered and no device, before. [s]</summary>
    public double NoLoadBeforeS { get; init; }

    /// <summary>How long the device stays after the end of charge. [s]</summary>
    public double MaintenanceS { get; init; }

    /// <summary>Charger powered and no device, after. [s]</summary>
    public double NoLoadAfterS { get; init; }

    /// <summary>Distance between the coils' axes. [m]</summary>
    public double OffsetM { get; init; }

    /// <summary>Where the device is put on purpose; null: at <see cref="OffsetM"/>, and the study does not tell it.</summary>
    public PlannedPlace? Place { get; init; }

    /// <summary>Standard deviation of a hand that puts the device down, in each of two directions. [m]</summary>
    public double OffsetSpreadM { get; init; }

    /// <summary>Relative spread (standard deviation) of the device's background load from run to run. [1]</summary>
    public double BackgroundSpread { get; init; }

    /// <summary>Meters that write a log.</summary>
    public required IReadOnlyList<MeterModel> Meters { get; init; }

    /// <summary>What goes wrong.</summary>
    public IReadOnlyList<LogMishap> Mishaps { get; init; } = [];

    /// <summary>Why the study leaves the run out; null where it counts.</summary>
    public string? Exclude { get; init; }
}
