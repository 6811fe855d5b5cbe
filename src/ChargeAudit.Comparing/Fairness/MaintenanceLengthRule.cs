using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Maintenance logged for different lengths; early maintenance draws more than late. Id
/// <c>different-maintenance-length</c>.</summary>
internal sealed class MaintenanceLengthRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            double? a = Hours(reference.Runs);
            double? b = Hours(other.Runs);
            if (a is { } x && b is { } y && Math.Abs(x - y) > 0.5 && Math.Max(x, y) > 1.5 * Math.Min(x, y))
            {
                yield return new FairnessNote(
                    "different-maintenance-length",
                    Prose.Of(
                        $"After the charge {other.Method.Name} was logged for {y:F1} h and {reference.Method.Name} for {x:F1} h; a device "
                        + $"that has just become full draws more than later, so the two powers when full differ for that reason, too."),
                    Ids(reference.Runs, other.Runs));
            }
        }
    }

    private static double? Hours(IReadOnlyList<RunResult> runs)
    {
        var hours = runs.SelectMany(r => r.Points.Values.Take(1)).Select(p => HoursAfter(p) ?? 0).ToList();
        return hours.Count > 0 ? hours.Average() : null;
    }

    /// <summary>Time from the end of the charge, which the device itself may have reported, to the end of the maintenance that follows.
    /// [h]</summary>
    private static double? HoursAfter(RunPointResult point)
    {
        double end = point.Charge.EndS;
        var kept = point.Log.Modes.FirstOrDefault(m => m.Span.Mode == Mode.Maintenance && m.Span.EndS > end);

        // From the moment when the device said it was full to the end seen in the power, it is full as well; another charge in between is
        // another matter.
        bool follows = kept is not null
            && !point.Log.Modes.Any(m => m.Span.Mode == Mode.Charge && m.Span.StartS > end && m.Span.StartS < kept.Span.StartS);
        return follows ? (kept!.Span.EndS - end) / 3600 : null;
    }
}
