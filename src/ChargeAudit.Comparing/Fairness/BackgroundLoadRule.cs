using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>The longer charge also feeds the device's own load for longer; that is not the charger's loss. Id
/// <c>background-load</c>.</summary>
internal sealed class BackgroundLoadRule : IFairnessRule
{
    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            foreach (var (point, a) in reference.Method.Points)
            {
                if (!other.Method.Points.TryGetValue(point, out var b))
                {
                    continue;
                }

                double hours = (b.ChargeDurationS - a.ChargeDurationS) / 3600;
                if (Math.Abs(hours) * 3600 <= 0.1 * Math.Min(a.ChargeDurationS, b.ChargeDurationS))
                {
                    continue;
                }

                // Power in maintenance includes the device's own load, no-load power does not; their difference bounds it from above where
                // top-ups are few.
                string amount = a.MaintenancePower.Value is { } kept && a.NoLoadPower.Value is { } empty && kept.Value > empty.Value
                    ? Prose.Of(
                        $" At about {kept.Value - empty.Value:G2} W that is some {Math.Abs(hours) * (kept.Value - empty.Value):G2} Wh "
                        + $"{At(point)}.")
                    : " How much that is was not measured.";
                var (longer, shorter) = hours > 0 ? (other.Method, reference.Method) : (reference.Method, other.Method);
                yield return new FairnessNote(
                    "background-load",
                    Prose.Of(
                        $"A charge {PlainWords.Charging(longer.Name, longer.Kind)} takes {Math.Abs(hours):F1} h longer than "
                        + $"{PlainWords.Charging(shorter.Name, shorter.Kind)} and feeds the device's own load (screen, radio) for that "
                        + $"time, too, which is not a loss of the charger.{amount} Compare with the device switched off, if it "
                        + $"charges while off."),
                    Ids(reference.Runs, other.Runs));
                break;
            }
        }
    }
}
