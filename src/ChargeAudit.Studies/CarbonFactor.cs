namespace ChargeAudit.Studies;

/// <summary>Emissions per energy taken from the mains: one number, or one an hour from a file.</summary>
/// <param name="GramsPerKwh">Flat factor; null where a file is given. [g/kWh]</param>
/// <param name="Hourly">File of factors in g per kWh (or kg per MWh, the same number); null where flat.</param>
/// <param name="WithinPercent">Half-width within which the factor is known, of the factor; null: taken as exact. [%]</param>
public sealed record CarbonFactor(double? GramsPerKwh, PriceFile? Hourly = null, double? WithinPercent = null);
