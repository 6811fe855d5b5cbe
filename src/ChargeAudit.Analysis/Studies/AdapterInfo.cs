namespace ChargeAudit.Analysis.Studies;

/// <summary>A mains adapter that was not measured: what its user knows of it. Every figure that rests on it says so.</summary>
/// <param name="EfficiencyPercent">Energy out by energy in over a charge, above 0 to 100. [%]</param>
/// <param name="EfficiencyWithin">Half-width within which that is known, in percentage points; null: its uncertainty is unknown. [%]</param>
/// <param name="NoLoadW">What it takes with nothing connected; null: unknown, and then stand-by at the wall cannot be told. [W]</param>
/// <param name="NoLoadWithinW">Half-width within which that is known; null: its uncertainty is unknown. [W]</param>
public sealed record AdapterInfo(double EfficiencyPercent, double? EfficiencyWithin, double? NoLoadW, double? NoLoadWithinW);
