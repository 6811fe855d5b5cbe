using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Auditing.Doubts;

/// <summary>
/// A pad that uses less than a cable. Its coils lose what a cable does not, so before the device it uses more for the same charge; less
/// means that the logs changed places, or that the charges end differently. Reported where the whole interval lies below one or, without an
/// interval, where the ratio is below 0.97.
/// </summary>
internal static class ChangedPlaces
{
    private const double BelowWithoutInterval = 0.97;

    public static IEnumerable<string> Of(IReadOnlyList<MethodResult> methods, IReadOnlyList<ComparisonResult> comparisons)
    {
        foreach (var comparison in comparisons.Where(c => c.Point is MeasuringPoint.Wall or MeasuringPoint.Usb
            && c.OverheadRatio.Value is not null && c.OverheadRatio.Assumed is null))
        {
            var reference = methods.First(m => m.Name == comparison.Reference);
            var method = methods.First(m => m.Name == comparison.Method);
            if (reference.Kind == method.Kind)
            {
                continue;
            }

            var (pad, cable) = method.Kind == MethodKind.Inductive ? (method, reference) : (reference, method);
            var ratio = comparison.OverheadRatio.Value!;
            var interval = ratio.Interval();
            bool less = method == pad
                ? interval is { } i ? i.High < 1 : ratio.Value < BelowWithoutInterval
                : interval is { } j ? j.Low > 1 : ratio.Value > 1 / BelowWithoutInterval;
            if (less)
            {
                double percent = 100 * (1 - (method == pad ? ratio.Value : 1 / ratio.Value));
                yield return Prose.Of(
                    $"{pad.Name} uses {percent:F0} % less {At(comparison.Point)} than {cable.Name}, although a pad loses what a cable "
                        + $"does not: the logs of the two may have changed places, or their charges started or ended differently.");
            }
        }
    }
}
