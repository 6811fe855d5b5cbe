using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Charged at different voltages: another working point of the adapter, and ampere-hours that cannot be compared. Id
/// <c>different-voltage</c>.</summary>
internal sealed class OutputVoltageRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            double? a = Volts(reference.Runs);
            double? b = Volts(other.Runs);
            if (a is { } x && b is { } y && Math.Abs(x - y) > 0.1 * Math.Min(x, y))
            {
                yield return new FairnessNote(
                    "different-voltage",
                    Prose.Of(
                        $"{reference.Method.Name} was charged at {x:F1} V and {other.Method.Name} at {y:F1} V on average. The adapter "
                        + $"works at another point then, and ampere-hours at different voltages cannot be compared: for the same energy a "
                        + $"charge at 9 V moves about half the ampere-hours of one at 5 V. Compare watt-hours."),
                    Ids(reference.Runs, other.Runs));
            }
        }
    }

    private static double? Volts(IReadOnlyList<RunResult> runs)
    {
        var volts = runs.Where(r => r.Points.ContainsKey(MeasuringPoint.Usb)).Select(r => r.Points[MeasuringPoint.Usb])
            .Select(p => p.Sums.VoltSeconds / Math.Max(1e-9, p.Sums.CoveredS))
            .Where(v => v > 0.5).ToList();
        return volts.Count > 0 ? volts.Average() : null;
    }
}
