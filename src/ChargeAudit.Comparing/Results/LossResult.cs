using ChargeAudit.Comparing.Losses;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Results;

/// <summary>Where the energy of a method's charges goes, as far as it was measured.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="From">The point nearest the wall, where the energy goes in.</param>
/// <param name="EnergyIn">Mean energy per charge there. [Wh]</param>
/// <param name="Parts">What is lost, in the order of the flow; places that one difference covers stand together.</param>
/// <param name="Arrives">What is left after the last part. [Wh]</param>
/// <param name="LastPoint">The point where that was measured; null: it is what the battery stored.</param>
/// <param name="NotSeparated">What lies beyond and was not measured, as a sentence; null where nothing does.</param>
public sealed record LossResult(
    string Method,
    MeasuringPoint From,
    Figure EnergyIn,
    IReadOnlyList<LossPart> Parts,
    Figure Arrives,
    MeasuringPoint? LastPoint,
    string? NotSeparated);
