using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Energies per percent of charge, where both ends of a run are given: a fairer ratio when batteries did not start or end
/// alike.</summary>
internal static class PerPercent
{
    /// <summary>A sentence with the ratio at the first point that both share; empty where there can be none.</summary>
    public static string Text((MethodResult Method, IReadOnlyList<RunResult> Runs) reference,
        (MethodResult Method, IReadOnlyList<RunResult> Runs) other)
    {
        foreach (var point in Enum.GetValues<MeasuringPoint>())
        {
            if (Mean(reference.Runs, point) is { } a && Mean(other.Runs, point) is { } b && a > 0)
            {
                return Prose.Of(
                    $" Per percent of charge {other.Method.Name} uses {b:G3} Wh and {reference.Method.Name} {a:G3} Wh "
                    + $"({FairnessNotes.At(point)}), a ratio of {b / a:G3}.");
            }
        }

        return "";
    }

    private static double? Mean(IReadOnlyList<RunResult> runs, MeasuringPoint point)
    {
        var values = runs
            .Where(r => r.Points.ContainsKey(point) && r.EndChargePercent - r.StartChargePercent >= 5)
            .Select(r => r.Points[point].Energy.Value / (r.EndChargePercent!.Value - r.StartChargePercent!.Value)).ToList();
        return values.Count > 0 ? values.Average() : null;
    }
}
