using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>Makes invented studies with known truth.</summary>
public static class Simulator
{
    /// <summary>Most rows of a study: all its logs stay in memory until they are written. [1]</summary>
    private const double MostRows = 2_000_000;
    private const int MostSteps = 1_000_000;

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
        double rows = 0;
        int steps = 0;
        return new SimulatedStudy
        {
            Scenario = scenario,
            Seed = seed,
            MeterSeed = meterSeed ?? seed,
            Runs = [.. scenario.Runs.Select(One)],
            Waiting = [.. scenario.Waiting.Select(One)],
            MeterErrors = errors,
        };

        SimulatedRun One(RunPlan plan)
        {
            RandomSource random = root.Named("run/" + plan.Id);
            PowerTrace trace = ChargeSimulation.Run(plan, scenario.Device, random);
            rows += plan.Meters.Sum(m => trace.DurationS / m.IntervalS);
            steps += trace.Steps.Count;
            return rows > MostRows ? throw TooLarge(plan, rows, MostRows, "rows of logs")
                : steps > MostSteps ? throw TooLarge(plan, steps, MostSteps, "steps") : new SimulatedRun(
                plan,
                trace,
                [.. plan.Meters.Select(m =>
                    LogSimulation.Write(plan, trace, m, errors.First(e => e.Meter == m.Name), random.Named("log/" + m.Name)))]);
        }
    }

    private static InputException TooLarge(RunPlan plan, double count, double most, string what) => new(
        InputProblem.Unusable,
        InvariantText.Of($"The study would have {count:G3} {what} up to run '{plan.Id}', {most:F0} at most was expected; ")
        + "lengthen the meters' intervals or shorten the runs.");
}
