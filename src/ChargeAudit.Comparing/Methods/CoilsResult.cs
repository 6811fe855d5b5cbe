using ChargeAudit.Coils;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Methods;

/// <summary>A pad's measured efficiency beside what its coils allow at best.</summary>
/// <param name="Link">The coils, as the study gives them.</param>
/// <param name="MeasuredEfficiency">From the pad's input to the device, over a charge; missing with what would be needed. [1]</param>
/// <param name="CoilLoss">Loss per charge set by coupling and coil quality: what lossless electronics at the best load would still lose.
/// [Wh]</param>
/// <param name="Rest">The rest of the loss per charge; below zero where data contradict each other. [Wh]</param>
/// <param name="Contradicts">Whether the pad does better than its coils can, beyond what the uncertainty explains.</param>
public sealed record CoilsResult(CoilLink Link, Figure MeasuredEfficiency, Figure CoilLoss, Figure Rest, bool Contradicts)
{
    /// <summary>The coils' best efficiency, from the driven coil to the load; the losses of the electronics come on top. [1]</summary>
    public double PossibleEfficiency => Link.MaximumEfficiency;
}
