using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>One simulated run: its plan, its exact power flows and what the meters wrote of it.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Trace">The truth.</param>
/// <param name="Logs">One log a meter.</param>
public sealed record SimulatedRun(RunPlan Plan, PowerTrace Trace, IReadOnlyList<SimulatedLog> Logs);

/// <summary>A whole invented study with its truth. The same scenario and seed give the same study, to the last bit, on every
/// machine.</summary>
public sealed record SimulatedStudy
{
    /// <summary>What it was made from.</summary>
    public required SimulationScenario Scenario { get; init; }

    /// <summary>The seed.</summary>
    public required ulong Seed { get; init; }

    /// <summary>Seed of the meters' lasting errors.</summary>
    public required ulong MeterSeed { get; init; }

    /// <summary>Charges in order.</summary>
    public required IReadOnlyList<SimulatedRun> Runs { get; init; }

    /// <summary>Chargers waiting with no device.</summary>
    public required IReadOnlyList<SimulatedRun> Waiting { get; init; }

    /// <summary>The lasting errors of each meter.</summary>
    public required IReadOnlyList<MeterErrors> MeterErrors { get; init; }
}
