using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>The true figures of a simulated study, those that an audit of its logs is to find. Runs that the study leaves out do not
/// count.</summary>
internal static class StudyTruth
{
    /// <summary>Mean energy per charge.</summary>
    /// <param name="study">The study.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Energy; NaN without a run. [Wh]</returns>
    public static double EnergyPerChargeWh(SimulatedStudy study, string method, MeasuringPoint point) =>
        Mean(Runs(study, method), t => t.EnergyWh(point, Mode.Charge));

    /// <summary>Mean power with the device full and still connected.</summary>
    /// <param name="study">The study.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Power; NaN without a run. [W]</returns>
    public static double MaintenanceW(SimulatedStudy study, string method, MeasuringPoint point) =>
        Mean(Runs(study, method), t => t.MeanW(point, Mode.Maintenance));

    /// <summary>Mean power with no device: of the logs made for it, else of the runs.</summary>
    /// <param name="study">The study.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Power; NaN where it does not occur. [W]</returns>
    public static double NoLoadW(SimulatedStudy study, string method, MeasuringPoint point)
    {
        ArgumentNullException.ThrowIfNull(study);
        List<PowerTrace> waiting = [.. study.Waiting.Where(r => r.Plan.Method.Name == method).Select(r => r.Trace)];
        return Mean(waiting.Count > 0 ? waiting : Runs(study, method), t => t.MeanW(point, Mode.NoLoad));
    }

    /// <summary>Ratio of the mean energies per charge.</summary>
    /// <param name="study">The study.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="point">The measuring point.</param>
    /// <returns>Energy of the method over that of the scenario's first. [1]</returns>
    public static double OverheadRatio(SimulatedStudy study, string method, MeasuringPoint point)
    {
        ArgumentNullException.ThrowIfNull(study);
        MethodModel reference = study.Scenario.Methods[0];
        return EnergyPerChargeWh(study, method, point) / EnergyPerChargeWh(study, reference.Name, point);
    }

    private static List<PowerTrace> Runs(SimulatedStudy study, string method)
    {
        ArgumentNullException.ThrowIfNull(study);
        return [.. study.Runs.Where(r => r.Plan.Method.Name == method && r.Plan.Exclude is null).Select(r => r.Trace)];
    }

    private static double Mean(List<PowerTrace> traces, Func<PowerTrace, double> value) => traces.Count == 0
        ? double.NaN
        : traces.Average(value);
}
