using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking;

/// <summary>
/// Tells where one meter is not stated alike on both sides. One instrument has one error, which cancels between a design and its baseline;
/// stated as 0.5 % in one study and 1 % in the other it cancels only in part, and which of the two is right no log can tell.
/// </summary>
internal static class MeterAccuracyChange
{
    // Another clause of one range, or another mixture of two gains, changes a gain a little; another data sheet changes it by more.
    private const double Alike = 1.1;

    // A gain that cancels within a figure, as in an overhead ratio, leaves a trace of it that means nothing.
    private const double Matters = 0.1;

    /// <summary>The sentence; null where the meters are stated alike.</summary>
    /// <param name="candidate">The candidate's figure.</param>
    /// <param name="baseline">The baseline's, of the same unit.</param>
    public static string? Of(Measured candidate, Measured baseline)
    {
        // Figures far apart may lie in different ranges of one meter.
        double apart = candidate.Value / baseline.Value;
        if (!(apart is > 0.5 and < 2))
        {
            return null;
        }

        double least = Matters * Math.Max(Relative(candidate), Relative(baseline));
        var (own, old) = (Gains(candidate), Gains(baseline));
        foreach (string meter in own.Keys.Union(old.Keys).Order(StringComparer.Ordinal))
        {
            double now = own.GetValueOrDefault(meter), before = old.GetValueOrDefault(meter);
            if (Math.Max(now, before) > least && Math.Max(now, before) > Alike * Math.Min(now, before))
            {
                return Prose.Of(
                    $"The accuracy stated for {meter} has changed: its gain is known within {100 * before:0.###} % (one standard "
                        + $"uncertainty) in the baseline and {100 * now:0.###} % in the study, so it does not cancel fully; state one "
                        + $"accuracy for one instrument, and give another instrument another name.");
            }
        }

        return null;
    }

    private static double Relative(Measured m) => (m.StandardUncertainty ?? 0) / Math.Abs(m.Value);

    private static Dictionary<string, double> Gains(Measured m) => m.Components
        .Where(c => c.Source is { Kind: SourceKind.MeterGain, Owner: SourceOwner.Meter, OwnerName: not null })
        .GroupBy(c => c.Source.OwnerName!, StringComparer.Ordinal)
        .ToDictionary(g => g.Key, g => Math.Sqrt(g.Sum(c => c.Variance)) / Math.Abs(m.Value),
            StringComparer.Ordinal);
}
