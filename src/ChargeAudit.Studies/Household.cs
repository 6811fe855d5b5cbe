namespace ChargeAudit.Studies;

/// <summary>What a household uses besides the charger: it decides in which tier the charger's energy falls.</summary>
/// <param name="KwhPerMonth">Consumption: one number for every month, or twelve from January on. [kWh]</param>
public sealed record Household(IReadOnlyList<double> KwhPerMonth);
