using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>Batteries that ended at different states of charge. Id <c>different-end-charge</c>.</summary>
internal sealed class EndChargeRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            var a = reference.Runs.Where(r => r.EndChargePercent is not null).ToList();
            var b = other.Runs.Where(r => r.EndChargePercent is not null).ToList();
            if (a.Count == 0 || b.Count == 0)
            {
                continue;
            }

            double difference = b.Average(r => r.EndChargePercent!.Value) - a.Average(r => r.EndChargePercent!.Value);
            if (Math.Abs(difference) > StartChargeRule.TolerancePercent)
            {
                yield return new FairnessNote(
                    "different-end-charge",
                    Prose.Of($"With {other.Method.Name} the battery ended {Math.Abs(difference):F0} % "
                        + $"{(difference > 0 ? "fuller" : "emptier")} than with {reference.Method.Name}, so that it took "
                        + $"{(difference > 0 ? "more" : "less")} energy.{PerPercent.Text(reference, other)}"),
                    Ids(a, b));
            }
        }
    }
}
