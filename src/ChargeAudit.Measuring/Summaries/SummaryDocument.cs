using System.Text.Json.Serialization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>What stands in a summary's file beside its tables.</summary>
internal sealed record SummaryDocument
{
    public required LogLayout Layout { get; init; }
    public required IReadOnlyDictionary<LogQuantity, double> Resolution { get; init; }
    public required PowerSource Source { get; init; }
    public required IReadOnlyList<ReadOutcome> Outcomes { get; init; }
    public required SummaryState State { get; init; }
}

/// <summary>How the document becomes text and text becomes the document, made when the program is compiled. A number is written with as
/// many digits as bring the same bits back.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    UseStringEnumConverter = true,
    IgnoreReadOnlyProperties = true,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    DefaultIgnoreCondition = JsonIgnoreCondition.Never)]
[JsonSerializable(typeof(SummaryDocument))]
[JsonSerializable(typeof(SummaryAbout))]
internal sealed partial class SummaryContext : JsonSerializerContext;
