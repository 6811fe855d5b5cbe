namespace ChargeAudit.Studies;

/// <summary>A mains adapter: what its user knows of it. Every figure that rests on it says so.</summary>
/// <param name="EfficiencyPercent">Energy out divided by energy in over a charge, above 0 to 100; null: unknown, and then no wall side is
/// derived. [%]</param>
/// <param name="EfficiencyWithin">Half-width within which that is known, in percentage points; null: its uncertainty is unknown.
/// [%]</param>
/// <param name="NoLoadW">What it draws with nothing connected; null: unknown, and then stand-by at the wall cannot be derived. [W]</param>
/// <param name="NoLoadWithinW">Half-width within which that is known; null: its uncertainty is unknown. [W]</param>
public sealed record AdapterInfo(
    double? EfficiencyPercent = null, double? EfficiencyWithin = null, double? NoLoadW = null, double? NoLoadWithinW = null)
{
    /// <summary>Output power on its nameplate; the published limits depend on it. [W]</summary>
    public double? OutputW { get; init; }

    /// <summary>What it gives out; null: not said.</summary>
    public SupplyKind? Kind { get; init; }

    /// <summary>Outputs that give power at the same time; null: not said.</summary>
    public int? Outputs { get; init; }
}
