namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>How the error of a source is distributed.</summary>
public enum ErrorShape
{
    /// <summary>Gaussian; Student's t where the degrees of freedom are finite.</summary>
    Normal,

    /// <summary>Equally likely anywhere between two limits. <i>Source:</i> JCGM 100:2008, 4.3.7.</summary>
    Rectangular,

    /// <summary>Likeliest in the middle. <i>Source:</i> JCGM 100:2008, 4.3.9.</summary>
    Triangular,

    /// <summary>Likeliest at the limits: a sine swept at random. <i>Source:</i> JCGM 100:2008, H.1.3.4.</summary>
    Arcsine,
}

/// <summary>
/// A named cause of error, such as the gain of one meter's voltage range or the noise of one run. Two figures that carry the
/// same source are correlated through it; sources with different ids are independent. Equality is by id.
/// </summary>
/// <param name="Id">Path-like name, such as <c>meter:bench/voltage-gain</c> or <c>run:pad-2/noise</c>.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of its standard uncertainty; positive infinity where taken as known.</param>
/// <param name="Shared">Whether another study made with the same equipment would meet the same error.</param>
/// <param name="Shape">Distribution of the error.</param>
public sealed record InfluenceSource(
    string Id,
    double DegreesOfFreedom = double.PositiveInfinity,
    bool Shared = false,
    ErrorShape Shape = ErrorShape.Normal)
{
    /// <summary>
    /// Name of the observations that several sources were worked out from together; null for a source that stands alone. Such sources have
    /// their degrees of freedom
    /// in common, which the formula of Welch and Satterthwaite must count once.
    /// </summary>
    public string? ObservedTogether { get; init; }

    /// <summary>How many observations the uncertainty was estimated from; null where it was not. [1]</summary>
    public int? Observations { get; init; }

    /// <inheritdoc/>
    public bool Equals(InfluenceSource? other) => other is not null && other.Id == Id;

    /// <inheritdoc/>
    public override int GetHashCode() => Id.GetHashCode(StringComparison.Ordinal);
}

/// <summary>The part of a figure's uncertainty that one source brings.</summary>
/// <param name="Source">The source.</param>
/// <param name="SignedStandardUncertainty">Sensitivity times the source's standard uncertainty, with the sensitivity's sign, in the
/// figure's unit.</param>
public readonly record struct UncertaintyComponent(InfluenceSource Source, double SignedStandardUncertainty);
