using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>What calibrations change in the energy of one stretch.</summary>
/// <param name="CorrectionJ">What is added to the energy as read. [J]</param>
/// <param name="Components">The errors of the corrections. [J]</param>
/// <param name="Outside">For each corrected quantity the integrals of what was read outside its calibrations; what else is stated counts
/// there.</param>
/// <param name="UnknownBecause">Why the errors are not known as a whole; null where they are.</param>
internal sealed record CorrectedStretch(
    double CorrectionJ,
    IReadOnlyList<UncertaintyComponent> Components,
    IReadOnlyDictionary<LogQuantity, EnergySensitivities> Outside,
    string? UnknownBecause)
{
    /// <summary>Nothing is corrected.</summary>
    public static CorrectedStretch None { get; } = new(0, [], new Dictionary<LogQuantity, EnergySensitivities>(), null);
}
