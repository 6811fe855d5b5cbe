using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>Batteries that started at different states of charge need different energies. Id <c>different-start-charge</c>.</summary>
internal sealed class StartChargeRule : IFairnessRule
{
    /// <summary>Difference below which nothing is said; a device's own display is no better. [%]</summary>
    internal const double TolerancePercent = 2;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            var a = reference.Runs.Where(r => r.StartChargePercent is not null).ToList();
            var b = other.Runs.Where(r => r.StartChargePercent is not null).ToList();
            if (a.Count == 0 || b.Count == 0)
            {
                if (reference.Runs.Count > 0 && other.Runs.Count > 0)
                {
                    yield return new FairnessNote(
                        "unknown-start-charge",
                        InvariantText.Of(
                            $"For {reference.Method.Name} and {other.Method.Name} it is not given how full the battery was at the start; "
                            + $"the comparison holds only if it was equally full. Give start-charge in the study."),
                        Ids(reference.Runs, other.Runs));
                }

                continue;
            }

            double difference = b.Average(r => r.StartChargePercent!.Value) - a.Average(r => r.StartChargePercent!.Value);
            if (Math.Abs(difference) > TolerancePercent)
            {
                yield return new FairnessNote(
                    "different-start-charge",
                    Prose.Of($"With {other.Method.Name} the battery started {Math.Abs(difference):F0} % "
                        + $"{(difference > 0 ? "fuller" : "emptier")} than with {reference.Method.Name}, so that it took "
                        + $"{(difference > 0 ? "less" : "more")} energy.{PerPercent.Text(reference, other)}"),
                    Ids(a, b));
            }
        }
    }
}
