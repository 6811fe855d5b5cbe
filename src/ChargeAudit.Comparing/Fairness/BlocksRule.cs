using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>
/// Runs in blocks (days, set-ups, operators, places): one block only, blocks of unlike size, or methods that were not made in the same
/// blocks. Id <c>blocks</c>.
/// </summary>
internal sealed class BlocksRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (method, runs) in input.Counted.Where(c => RunBlocks.Of(c.Runs) is not null))
        {
            var sizes = Sizes(runs);
            if (sizes.Count == 1 && runs.Count > 1)
            {
                yield return new FairnessNote(
                    "blocks",
                    InvariantText.Of($"All {runs.Count} runs of {method.Name} were made in one block ({sizes[0].Block}): how much blocks "
                        + $"differ ")
                        + "is not known, and the interval holds for that one alone. Repeat on another day or with another set-up.",
                    Ids(runs));
            }
            else if (sizes.Select(s => s.Count).Distinct().Count() > 1)
            {
                yield return new FairnessNote(
                    "blocks",
                    $"The runs of {method.Name} are spread unevenly over blocks ({Told(sizes)}): each block counts alike, so a run in a "
                        + "small one weighs more. Make equally many runs in each.",
                    Ids(runs));
            }
        }

        foreach (var (reference, other) in input.Pairs)
        {
            if (RunBlocks.Of(reference.Runs) is null || RunBlocks.Of(other.Runs) is null)
            {
                continue;
            }

            var (a, b) = (Sizes(reference.Runs), Sizes(other.Runs));
            if (!a.Select(s => s.Block).SequenceEqual(b.Select(s => s.Block)))
            {
                yield return new FairnessNote(
                    "blocks",
                    $"{reference.Method.Name} was run in {Told(a)}, {other.Method.Name} in {Told(b)}: the effect of a day or set-up "
                        + $"would look like a difference between the methods. Run both in every block.",
                    Ids(reference.Runs, other.Runs));
            }
        }
    }

    private static List<(string Block, int Count)> Sizes(IEnumerable<RunResult> runs) =>
        [.. runs.GroupBy(r => r.Block!, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g =>
            (g.Key, g.Count()))];

    private static string Told(List<(string Block, int Count)> sizes) =>
        string.Join(", ", sizes.Select(s => InvariantText.Of($"{s.Block}: {s.Count}")));
}
