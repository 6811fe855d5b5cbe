using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>Runs that were left out, each with its reason: a reader must see what was not counted. Id <c>excluded-run</c>.</summary>
internal sealed class ExcludedRunsRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input) =>
        from method in input.Methods
        from run in method.Runs
        where run.Excluded is not null
        select new FairnessNote("excluded-run",
            InvariantText.Of($"Run {run.Id} of {method.Name} was left out: {run.Excluded!.TrimEnd('.')}."),
            [run.Id])
        { Gravity = Gravity.Reading };
}
