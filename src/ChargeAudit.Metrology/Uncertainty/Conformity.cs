using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>Whether a figure keeps a limit, its uncertainty taken into account. <i>Source:</i> JCGM 106:2012 (conformance probability,
/// guard bands).</summary>
public static class Conformity
{
    /// <summary>Probability that the true value lies below an upper limit; null where the uncertainty is not known. [1]</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="upperLimit">The limit, in the figure's unit.</param>
    public static double? ProbabilityBelow(Measured figure, double upperLimit) => figure.StandardUncertainty is not { } u
        ? null
        : u == 0
            ? (figure.Value <= upperLimit ? 1 : 0)
            : StudentDistribution.LowerTail((upperLimit - figure.Value) / u, figure.DegreesOfFreedom!.Value);

    /// <summary>Greatest figure that is accepted: the limit less a guard band of so many expanded uncertainties.</summary>
    /// <param name="upperLimit">The limit, in the figure's unit.</param>
    /// <param name="expandedUncertainty">Expanded uncertainty U, in the figure's unit.</param>
    /// <param name="guardShare">Guard band by U: 0 accepts up to the limit itself, 1 keeps a whole U off it. [1]</param>
    public static double AcceptanceLimit(double upperLimit, double expandedUncertainty, double guardShare = 1) => upperLimit - (guardShare * expandedUncertainty);
}
