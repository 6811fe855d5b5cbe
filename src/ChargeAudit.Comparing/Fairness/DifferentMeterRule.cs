using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Two meters at one point: their gain errors do not cancel in the ratio. Id <c>different-meter</c>.</summary>
internal sealed class DifferentMeterRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var point in Enum.GetValues<MeasuringPoint>())
        {
            foreach (var (reference, other) in input.Pairs)
            {
                var a = Meters(reference.Runs, point);
                var b = Meters(other.Runs, point);
                if (a.Count > 0 && b.Count > 0 && !a.SetEquals(b))
                {
                    yield return new FairnessNote(
                        "different-meter",
                        InvariantText.Of($"{PlainWords.Capital(At(point))} {reference.Method.Name} was metered by "
                            + $"{PlainWords.Listed([.. a.Order(StringComparer.Ordinal)])} and {other.Method.Name} by "
                            + $"{PlainWords.Listed([.. b.Order(StringComparer.Ordinal)])}: the errors of two meters do not cancel in the "
                            + $"ratio; use one meter for both."),
                        Ids(reference.Runs, other.Runs));
                }
            }
        }
    }

    private static HashSet<string> Meters(IReadOnlyList<RunResult> runs, MeasuringPoint point) =>
        runs.Where(r => r.Points.ContainsKey(point)).Select(r => r.Points[point].Meter).OfType<string>().ToHashSet(StringComparer.Ordinal);
}
