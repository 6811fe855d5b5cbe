using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Readings that are too far apart or too coarse for a charge. Id <c>coarse-sampling</c>.</summary>
internal sealed class CoarseSamplingRule : IFairnessRule
{
    private const int LeastReadings = 100;
    private const double LargestStepShare = 0.05;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        var all = input.Counted.SelectMany(c => c.Runs).ToList();
        var rare = all.Where(r => r.Points.Values.Any(p => p.Charge.DurationS < LeastReadings * p.Log.Layout.MedianIntervalS)).ToList();
        if (rare.Count > 0)
        {
            yield return new FairnessNote(
                "coarse-sampling",
                InvariantText.Of(
                    $"The charge holds fewer than {LeastReadings} readings, so its borders and its energy rest on few of them; log "
                    + $"more often."),
                Ids(rare))
            { Gravity = Gravity.Wide };
        }

        var coarse = all.Where(r => r.Points.Values.Any(IsCoarse)).ToList();
        if (coarse.Count > 0)
        {
            yield return new FairnessNote(
                "coarse-steps",
                Prose.Of(
                    $"The power readings come in steps of more than {100 * LargestStepShare:F0} % of the mean power: the error of such a "
                    + $"step is alike in all readings and does not average out."),
                Ids(coarse))
            { Gravity = Gravity.Wide };
        }
    }

    private static bool IsCoarse(RunPointResult point)
    {
        double mean = point.Sums.EnergyJ / Math.Max(1e-9, point.Charge.DurationS);
        return point.Log.Layout.Resolution.TryGetValue(LogQuantity.Power, out double step) && step > LargestStepShare * mean;
    }
}
