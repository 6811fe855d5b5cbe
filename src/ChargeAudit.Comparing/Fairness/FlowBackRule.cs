using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>A discharge within or between charges. Id <c>discharge-in-between</c>.</summary>
internal sealed class FlowBackRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        var found = new List<RunResult>();
        foreach (var run in input.Counted.SelectMany(c => c.Runs))
        {
            if (run.Points.Values.Any(FlowsBack))
            {
                found.Add(run);
            }
        }

        if (found.Count > 0)
        {
            yield return new FairnessNote(
                "discharge-in-between",
                "Power turns negative during the charge: the battery was discharged in between, or the meter was connected the other way "
                    + "round for a time. The energy of such a charge cannot be compared.",
                Ids(found))
            { Gravity = Gravity.Wrong };
        }
    }

    private static bool FlowsBack(RunPointResult point) => point.Sums.BackJ > 0.002 * point.Sums.EnergyJ;
}
