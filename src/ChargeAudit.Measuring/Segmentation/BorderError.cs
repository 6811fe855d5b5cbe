using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// What makes a border between two modes uncertain, as a source: whatever carries the same one moves with it. A border that lies too late
/// gives to the mode before it what it takes from the mode after it.
/// </summary>
/// <param name="Source">The source.</param>
/// <param name="UncertaintyS">Standard uncertainty. [s]</param>
public readonly record struct BorderError(InfluenceSource Source, double UncertaintyS);
