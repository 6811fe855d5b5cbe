using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>Makes invented studies with known truth.</summary>
public static class Simulator
{
    /// <summary>Simulates every run of a scenario and writes every meter's log in memory.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="seed">The seed; each run, meter and log has its own named stream of it.</param>
    /// <param name="meterSeed">Seed of the meters' lasting errors; null: the seed. The same one for several studies keeps the
    /// meters.</param>
    /// <returns>The study with its truth.</returns>
    /// <exception cref="InputException">The scenario asks for what cannot be: an adapter too weak, a charge that never ends.</exception>
    public static SimulatedStudy Run(SimulationScenario scenario, ulong seed, ulong? meterSeed = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        RandomSource root = new(seed), meters = new(meterSeed ?? seed);
        List<MeterErrors> errors = [.. scenario.Meters.Select(m => MeterErrors.Draw(m, meters.Named("meter/" + m.Name)))];
        return new SimulatedStudy
        {
            Scenario = scenario,
            Seed = seed,
            MeterSeed = meterSeed ?? seed,
            Runs = [.. scenario.Runs.Select(plan => One(scenario, plan, errors, root))],
            Waiting = [.. scenario.Waiting.Select(plan => One(scenario, plan, errors, root))],
            MeterErrors = errors,
        };
    }

    private static SimulatedRun One(SimulationScenario scenario, RunPlan plan, List<MeterErrors> errors, RandomSource root)
    {
        RandomSource random = root.Named("run/" + plan.Id);
        PowerTrace trace = ChargeSimulation.Run(plan, scenario.Device, random);
        return new SimulatedRun(
            plan,
            trace,
            [.. plan.Meters.Select(meter =>
                LogSimulation.Write(plan, trace, meter, errors.First(e => e.Meter == meter.Name), random.Named("log/" + meter.Name)))]);
    }
}
