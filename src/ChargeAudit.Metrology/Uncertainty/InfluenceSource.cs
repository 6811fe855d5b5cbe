using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>How the error of a source is distributed.</summary>
public enum ErrorShape
{
    /// <summary>Gaussian; Student's t where the degrees of freedom are finite.</summary>
    [JsonStringEnumMemberName("normal")] Normal,

    /// <summary>Equally likely anywhere between two limits. <i>Source:</i> JCGM 100:2008, 4.3.7.</summary>
    [JsonStringEnumMemberName("rectangular")] Rectangular,

    /// <summary>Likeliest in the middle. <i>Source:</i> JCGM 100:2008, 4.3.9.</summary>
    [JsonStringEnumMemberName("triangular")] Triangular,

    /// <summary>Likeliest at the limits: a sine swept at random. <i>Source:</i> JCGM 100:2008, H.1.3.4.</summary>
    [JsonStringEnumMemberName("arcsine")] Arcsine,
}

/// <summary>
/// A cause of error: whose it is, what sort it is, and which of its owner's. Two figures that carry the same source are correlated through
/// it; different sources are independent. Two sources are the same if design, owner and part are. Nothing is read out of <see cref="Id"/>:
/// it is text for people.
/// </summary>
/// <param name="Part">Which of its owner's errors, such as <c>voltage-gain</c> or <c>charge-noise</c>; the whole name where it has no
/// owner.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of its standard uncertainty; positive infinity where taken as known.</param>
/// <param name="Shared">Whether another study made with the same equipment would meet the same error.</param>
/// <param name="Shape">Distribution of the error.</param>
public sealed record InfluenceSource(
    string Part,
    double DegreesOfFreedom = double.PositiveInfinity,
    bool Shared = false,
    ErrorShape Shape = ErrorShape.Normal)
{
    /// <summary>Whose error it is.</summary>
    public SourceOwner Owner { get; init; }

    /// <summary>Name of the owner; null where it has none.</summary>
    public string? OwnerName { get; init; }

    /// <summary>What sort of error it is.</summary>
    public SourceKind Kind { get; init; }

    /// <summary>Which of two designs compared side by side it belongs to; null where both share it, or there is only one.</summary>
    public string? Design { get; init; }

    /// <summary>
    /// Name of the observations that several sources were worked out from together; null for a source that stands alone. Such sources have
    /// their degrees of freedom
    /// in common, which the formula of Welch and Satterthwaite must count once.
    /// </summary>
    public string? ObservedTogether { get; init; }

    /// <summary>
    /// Where the middle of the error lies, in units of its standard uncertainty; 0 for an error that is as likely above as below. A value
    /// given with limits that lie unevenly about it has another: the value stays as given, and its interval goes by the limits. [1]
    /// </summary>
    public double Middle { get; init; }

    /// <summary>How many observations the uncertainty was estimated from; null where it was not. [1]</summary>
    public int? Observations { get; init; }

    /// <summary>Whether the observations are means of blocks (days, set-ups), each of one or more runs.</summary>
    public bool InBlocks { get; init; }

    /// <summary>The source as one word, such as <c>meter:bench/voltage-gain</c>.</summary>
    public string Id => (Design is null ? "" : Design + ":") + (Owner, OwnerName) switch
    {
        (SourceOwner.None, _) => Part,
        (_, null) => $"{Word(Owner)}:{Part}",
        _ => $"{Word(Owner)}:{OwnerName}/{Part}",
    };

    /// <summary>An error of a meter, which every log it writes shares.</summary>
    /// <param name="meter">The meter's name.</param>
    /// <param name="kind">What sort it is.</param>
    /// <param name="part">Which of the meter's errors.</param>
    /// <param name="shape">How it is distributed.</param>
    public static InfluenceSource OfMeter(string meter, SourceKind kind, string part, ErrorShape shape = ErrorShape.Normal) =>
        new(part, Shared: true, Shape: shape) { Owner = SourceOwner.Meter, OwnerName = meter, Kind = kind };

    /// <summary>An error of one log.</summary>
    /// <param name="log">The log's name.</param>
    /// <param name="kind">What sort it is.</param>
    /// <param name="part">Which of the log's errors.</param>
    /// <param name="shape">How it is distributed.</param>
    public static InfluenceSource OfLog(string log, SourceKind kind, string part, ErrorShape shape = ErrorShape.Normal) =>
        new(part, Shape: shape) { Owner = SourceOwner.Log, OwnerName = log, Kind = kind };

    /// <summary>An error of one method of charging.</summary>
    /// <param name="method">The method's name.</param>
    /// <param name="kind">What sort it is.</param>
    /// <param name="part">Which of the method's errors.</param>
    /// <param name="shape">How it is distributed.</param>
    public static InfluenceSource OfMethod(string method, SourceKind kind, string part, ErrorShape shape = ErrorShape.Normal) =>
        new(part, Shape: shape) { Owner = SourceOwner.Method, OwnerName = method, Kind = kind };

    /// <summary>The scatter between the runs of a method.</summary>
    /// <param name="method">The method's name.</param>
    /// <param name="of">Of what figure, such as <c>usb</c>.</param>
    public static InfluenceSource ScatterOf(string method, string of) => OfMethod(method, SourceKind.Repeatability, of + "-repeatability");

    /// <inheritdoc/>
    public bool Equals(InfluenceSource? other) => other is not null
        && other.Part == Part && other.Owner == Owner && other.OwnerName == OwnerName && other.Design == Design;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Part, Owner, OwnerName, Design);

    /// <summary>The owner as screens and files name it; null where there is none.</summary>
    /// <param name="owner">The owner.</param>
    public static string? Word(SourceOwner owner) => owner switch
    {
        SourceOwner.Meter => "meter",
        SourceOwner.Log => "log",
        SourceOwner.Run => "run",
        SourceOwner.Method => "method",
        SourceOwner.Adapter => "adapter",
        SourceOwner.Use => "use",
        SourceOwner.Tariff => "tariff",
        SourceOwner.Carbon => "co2",
        _ => null,
    };
}

/// <summary>The part of a figure's uncertainty that one source brings.</summary>
/// <param name="Source">The source.</param>
/// <param name="SignedStandardUncertainty">Sensitivity times the source's standard uncertainty, with the sensitivity's sign, in the
/// figure's unit.</param>
public readonly record struct UncertaintyComponent(InfluenceSource Source, double SignedStandardUncertainty)
{
    /// <summary>Square of the standard uncertainty.</summary>
    public double Variance => SignedStandardUncertainty * SignedStandardUncertainty;
}
