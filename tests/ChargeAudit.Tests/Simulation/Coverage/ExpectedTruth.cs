using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation.Coverage;

/// <summary>
/// What a scenario's figures are in the mean over very many repeats: that is what an interval with a repeatability part speaks of, not the
/// few charges that happened to be logged. Found from exact power flows alone, without meters.
/// </summary>
public sealed class ExpectedTruth
{
    private readonly Dictionary<(string Method, MeasuringPoint Point), double> _energyWh = [];
    private readonly string _reference;

    private ExpectedTruth(string reference) => _reference = reference;

    /// <summary>Simulates the scenario's charges many times.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="seeds">One repeat of all runs each.</param>
    /// <returns>The means.</returns>
    public static ExpectedTruth Of(SimulationScenario scenario, IReadOnlyList<ulong> seeds)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(seeds);
        SimulationScenario bare = scenario with
        {
            Meters = [],
            Waiting = [],
            Runs = [.. scenario.Runs.Where(r => r.Exclude is null).Select(r => r with { Meters = [] })],
        };
        ExpectedTruth truth = new(scenario.Methods[0].Name);
        Dictionary<string, int> counts = [];
        foreach (ulong seed in seeds)
        {
            foreach (SimulatedRun run in Simulator.Run(bare, seed).Runs)
            {
                string method = run.Plan.Method.Name;
                counts[method] = counts.GetValueOrDefault(method) + 1;
                foreach (MeasuringPoint point in Enum.GetValues<MeasuringPoint>())
                {
                    truth._energyWh[(method, point)] = truth._energyWh.GetValueOrDefault((method, point))
                        + run.Trace.EnergyWh(point, Mode.Charge);
                }
            }
        }

        foreach ((string Method, MeasuringPoint Point) key in truth._energyWh.Keys.ToList())
        {
            truth._energyWh[key] /= counts[key.Method];
        }

        return truth;
    }

    /// <summary>Expected energy per charge.</summary>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Energy; NaN for a method without runs. [Wh]</returns>
    public double EnergyPerChargeWh(string method, MeasuringPoint point) => _energyWh.GetValueOrDefault((method, point), double.NaN);

    /// <summary>Ratio of the expected energies.</summary>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Energy of the method over that of the scenario's first. [1]</returns>
    public double OverheadRatio(string method, MeasuringPoint point) =>
        EnergyPerChargeWh(method, point) / EnergyPerChargeWh(_reference, point);
}
