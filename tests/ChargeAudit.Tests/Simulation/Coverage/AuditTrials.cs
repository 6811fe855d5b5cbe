using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Simulation;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Simulation.Coverage;

/// <summary>Audits the logs of a simulated study, as a user would, and puts what it finds beside the truth.</summary>
public static class AuditTrials
{
    /// <summary>One trial each for ratios, energies per charge and powers without a device.</summary>
    /// <param name="study">The study.</param>
    /// <param name="expected">The means over many repeats of its scenario.</param>
    /// <param name="folder">Where its files are written; what is there is replaced.</param>
    /// <param name="clock">The clock for the audit's provenance.</param>
    /// <returns>The trials; a figure that the audit does not give is left out.</returns>
    public static IReadOnlyList<CoverageTrial> Of(SimulatedStudy study, ExpectedTruth expected, string folder, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(expected);
        WrittenStudy.To(study, folder);
        string file = Path.Combine(folder, "study.toml");
        AuditResult audit = Auditor.Run(StudyReader.Load(file), new AuditOptions
        {
            ProgramVersion = "",
            CommandLine = "",
            StudyFile = file,
            Clock = clock,
        });
        List<CoverageTrial> trials = [];
        foreach (ComparisonResult comparison in audit.Comparisons)
        {
            Add(trials, "overheadRatio", comparison.Point, comparison.OverheadRatio,
                expected.OverheadRatio(comparison.Method, comparison.Point));
        }

        foreach (MethodResult method in audit.Methods)
        {
            foreach ((MeasuringPoint point, PointResult result) in method.Points)
            {
                Add(trials, "energyPerCharge", point, result.EnergyPerCharge, expected.EnergyPerChargeWh(method.Name, point));
            }

            // A log made for waiting and nothing else; the short stretches before a charge say less.
            foreach (SimulatedRun waiting in study.Waiting.Where(w => w.Plan.Method.Name == method.Name))
            {
                MeasuringPoint point = waiting.Logs[0].Meter.Point;
                if (method.Points.TryGetValue(point, out PointResult? result))
                {
                    Add(trials, "noLoadPower", point, result.NoLoadPower, StudyTruth.NoLoadW(study, method.Name, point));
                }
            }
        }

        return trials;
    }

    private static void Add(List<CoverageTrial> trials, string figure, MeasuringPoint point, Figure found, double truth)
    {
        if (found.Value is { } value && double.IsFinite(truth))
        {
            trials.Add(new CoverageTrial(figure + "/" + point.ToString().ToLowerInvariant(), truth, value));
        }
    }
}
