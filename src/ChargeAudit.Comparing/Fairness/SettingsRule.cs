using ChargeAudit.Comparing.Placement;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Runs that were set up differently on purpose: their mean is one over the settings. Id <c>different-settings</c>.</summary>
internal sealed class SettingsRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (method, runs) in input.Counted)
        {
            var changed = Enum.GetValues<Factor>().Where(f => f != Factor.Temperature
                && runs.Where(r => r.Factors.Has(f)).Select(r => (r.Factors.Of(f), f == Factor.Case ? r.Factors.Case : null)).Distinct()
                    .Count() > 1).ToList();
            if (changed.Count > 0)
            {
                yield return new FairnessNote(
                    "different-settings",
                    InvariantText.Of(
                        $"The runs of {method.Name} differ in {PlainWords.Listed([.. changed.Select(FactorWords.Of)])}: its energy per "
                        + $"charge is the mean over these settings, and its interval holds their differences. What each one changes is "
                        + $"shown under \"Where the device lies\"."),
                    Ids(runs));
            }
        }
    }
}
