using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Runs;

/// <summary>One charge by one method.</summary>
public sealed record RunResult
{
    /// <summary>Method and number: <c>pad-2</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Absolute start of the charge; null where the logs hold none.</summary>
    public DateTimeOffset? Start { get; init; }

    /// <summary>Why it is left out; null where it counts.</summary>
    public string? Excluded { get; init; }

    /// <summary>The block that it was made in (day, set-up, operator, place); null where it was not stated.</summary>
    public string? Block { get; init; }

    /// <summary>State of charge at the start, where given. [%]</summary>
    public double? StartChargePercent { get; init; }

    /// <summary>State of charge at the end, where given. [%]</summary>
    public double? EndChargePercent { get; init; }

    /// <summary>Temperature of the room, as the study says, else the mean of the logs' own column; null where neither tells it.
    /// [°C]</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Name of the adapter that fed it, where the study says.</summary>
    public string? Adapter { get; init; }

    /// <summary>What was measured at each point.</summary>
    public required IReadOnlyDictionary<MeasuringPoint, RunPointResult> Points { get; init; }

    /// <summary>Where the device lay, and what else was set for the run.</summary>
    public RunFactors Factors { get; init; } = RunFactors.None;

    /// <summary>How the clocks of its meters differ; empty where there is one meter only.</summary>
    public IReadOnlyList<ClockResult> Clocks { get; init; } = [];
}

/// <summary>How the clock of one meter of a run compares with another's, as their power steps show it.</summary>
/// <param name="Point">The meter whose clock is judged.</param>
/// <param name="Reference">The meter it is judged by: the one nearest the device.</param>
/// <param name="AheadS">How far its clock shows a later time for the same moment; missing where the steps do not tell. [s]</param>
/// <param name="Applied">Whether the charge was carried from one log to the other with it.</param>
public sealed record ClockResult(MeasuringPoint Point, MeasuringPoint Reference, Figure AheadS, bool Applied);
