using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.Audits;

namespace ChargeAudit.Pooling.Results;

/// <summary>One method of one audit.</summary>
/// <param name="Audit">The audit.</param>
/// <param name="Method">The method's name in it.</param>
/// <param name="Charger">The charger.</param>
/// <param name="Figures">Its figures; ratios and energies as the logarithm where they are pooled so.</param>
public sealed record PoolRow(PooledAudit Audit, string Method, string Charger, IReadOnlyDictionary<PoolFigure, Figure> Figures)
{
    /// <summary>The device.</summary>
    public string Device => Audit.Device;

    /// <summary>Whether a figure is pooled as its logarithm.</summary>
    /// <param name="figure">The figure.</param>
    public static bool AsLogarithm(PoolFigure figure) => figure is PoolFigure.OverheadRatio or PoolFigure.EnergyPerCharge;
}
