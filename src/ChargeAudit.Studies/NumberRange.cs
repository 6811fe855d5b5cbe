namespace ChargeAudit.Studies;

/// <summary>Two limits between which a number lies, both possible. Inside, every value is taken as equally likely.</summary>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit, not below <paramref name="Low"/>.</param>
public readonly record struct NumberRange(double Low, double High);
