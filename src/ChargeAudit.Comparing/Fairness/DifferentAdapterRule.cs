using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Fed by different adapters, whose losses are then taken for the method's at the wall. Id <c>different-adapter</c>.</summary>
internal sealed class DifferentAdapterRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            var a = Adapters(reference.Runs);
            var b = Adapters(other.Runs);
            if (a.Count > 0 && b.Count > 0 && !a.SetEquals(b))
            {
                bool wall = reference.Runs.Concat(other.Runs).Any(r => r.Points.ContainsKey(MeasuringPoint.Wall));
                string effect = wall
                    ? "at the wall the difference includes that of the adapters"
                    : "the adapter may offer another voltage or less power, and so change how the device charges";
                yield return new FairnessNote(
                    "different-adapter",
                    InvariantText.Of(
                        $"{reference.Method.Name} was fed by {PlainWords.Listed([.. a.Order(StringComparer.Ordinal)])} and "
                        + $"{other.Method.Name} by {PlainWords.Listed([.. b.Order(StringComparer.Ordinal)])}: {effect}. Use one adapter "
                        + $"for both, or say that a method includes its adapter."),
                    Ids(reference.Runs, other.Runs));
            }
        }
    }

    private static HashSet<string> Adapters(IReadOnlyList<RunResult> runs) =>
        runs.Select(r => r.Adapter).OfType<string>().ToHashSet(StringComparer.Ordinal);
}
