using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>A charge that was held for a long time and then finished feeds the device's own load meanwhile; one that was not held does not.
/// Id <c>held-charge</c>.</summary>
internal sealed class HoldRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        var held = input.Counted.SelectMany(c => c.Runs).Select(r => (Run: r, Hold: HoldOf(r))).Where(h => h.Hold.LengthS > 0).ToList();
        if (held.Count > 0)
        {
            string each =
                string.Join(", ",
                held.Select(h =>
                    Prose.Of($"{h.Run.Id} for {h.Hold.LengthS / 3600:F1} h ({h.Hold.EnergyWh:G3} Wh {At(h.Hold.Point)})")));
            yield return new FairnessNote(
                "held-charge",
                $"A charge was held before it was finished, as devices do to spare the battery: {each}. The energy that flowed meanwhile "
                    + $"is included, and it fed the device's own load. Compare with charges that were held in the same way, or switch "
                    + $"this function of the device off.",
                Ids(held.Select(h => h.Run)));
        }
    }

    // The meter nearest the device tells a hold best.
    private static (double LengthS, double EnergyWh, Logs.MeasuringPoint Point) HoldOf(RunResult run)
    {
        foreach (var (point, seen) in run.Points.OrderByDescending(p => p.Key))
        {
            var holds = seen.Log.Details.Where(d => d.Kind == ModeDetailKind.Hold && d.StartS >= seen.Charge.StartS
                && d.EndS <= seen.Charge.EndS).ToList();
            if (holds.Count > 0)
            {
                return (holds.Sum(h => h.EndS - h.StartS), holds.Sum(h => (h.EndS - h.StartS) * h.MeanPowerW) / 3600, point);
            }
        }

        return default;
    }
}
