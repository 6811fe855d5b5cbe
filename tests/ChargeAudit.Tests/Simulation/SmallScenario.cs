using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

/// <summary>The sample's device and chargers with few, short runs, so that a property can be tried many times.</summary>
internal static class SmallScenario
{
    public static SimulationScenario Sample { get; } = SampleStudy.Scenario;

    /// <summary>One run by each method, from near full.</summary>
    public static SimulationScenario Short(double startShare = 0.9, Func<DeviceModel, DeviceModel>? device = null)
    {
        RunPlan cable = Sample.Runs.First(r => r.Method.Pad is null);
        RunPlan pad = Sample.Runs.First(r => r.Method.Pad is not null);
        return Sample with
        {
            Device = device is null ? Sample.Device : device(Sample.Device),
            Runs = [.. new[] { cable, pad }.Select(r => r with
            {
                StartShare = startShare,
                NoLoadBeforeS = 60,
                MaintenanceS = 300,
                NoLoadAfterS = 30,
            })],
            Waiting = [],
        };
    }

    /// <summary>A scenario with one meter on one run by cable, short, and its log's rows split into fields.</summary>
    public static (SimulatedRun Run, string[] Header, string[][] Rows) OneLog(MeterModel meter, LogMishap? mishap = null,
        Func<RunPlan, RunPlan>? plan = null, ulong seed = 5)
    {
        SimulationScenario scenario = Short();
        RunPlan run = scenario.Runs[0] with { Meters = [meter], Mishaps = mishap is null ? [] : [mishap] };
        run = plan is null ? run : plan(run);
        SimulatedStudy study = Simulator.Run(scenario with { Meters = [meter], Runs = [run] }, seed);
        string[] lines = study.Runs[0].Logs[0].Text.TrimEnd().Split('\n', StringSplitOptions.TrimEntries);
        return (study.Runs[0], lines[0].Split(meter.Dialect.Separator), [.. lines.Skip(1).Select(l => l.Split(meter.Dialect.Separator))]);
    }
}
