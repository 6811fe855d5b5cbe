using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>Fewer than three runs show little or nothing of how much runs differ. Id <c>too-few-runs</c>.</summary>
internal sealed class TooFewRunsRule : IFairnessRule
{
    private const int Enough = 3;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (method, runs) in input.Counted.Where(c => c.Runs.Count < Enough))
        {
            string text = runs.Count switch
            {
                0 => InvariantText.Of($"No run of {method.Name} counts, so nothing can be said of it."),
                1 => InvariantText.Of($"{method.Name} has one run only: how much its runs differ is not known. Three or more show it."),
                _ => InvariantText.Of(
                    $"{method.Name} has two runs only: their difference is a poor measure of how much runs differ. Three or more are "
                    + $"better."),
            };
            yield return new FairnessNote("too-few-runs", text, Ids(runs)) { Gravity = Gravity.Wrong };
        }
    }
}
