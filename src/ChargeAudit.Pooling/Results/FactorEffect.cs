namespace ChargeAudit.Pooling.Results;

/// <summary>How the overhead depends on a factor of the audits.</summary>
/// <param name="Factor">Name of the factor.</param>
/// <param name="Level">The level that is compared with <paramref name="Base"/>; null for a number.</param>
/// <param name="Base">The level that others are compared with; null for a number.</param>
/// <param name="Ratio">What the overhead ratio is multiplied by: for one more of a number, or from the base to the level. [1]</param>
/// <param name="DegreesOfFreedom">Degrees of freedom. [1]</param>
/// <param name="Audits">How many audits it rests on. [1]</param>
public sealed record FactorEffect(string Factor, string? Level, string? Base, PooledValue Ratio, double DegreesOfFreedom, int Audits);
