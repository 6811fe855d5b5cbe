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

    /// <summary>The columns of the rows that the cells are made of; null: the table holds the cells.</summary>
    public IReadOnlyList<RowColumn>? Rows { get; init; }

    /// <summary>Which part of the log it is of; null: of the whole.</summary>
    public SummaryPart? Part { get; init; }
}

/// <summary>What a part of a log needs to be joined to its neighbours.</summary>
/// <param name="Range">Which bytes of the log it is.</param>
/// <param name="Counts">What was counted in it.</param>
internal sealed record SummaryPart(LogPart Range, PartOutcome Counts);

/// <summary>How the document becomes text and text becomes the document, made when the program is compiled. A number is written with as
/// many digits as bring the same bits back.</summary>
[JsonSourceGenerationOptions(
    GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    UseStringEnumConverter = true,
    IgnoreReadOnlyProperties = true,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    DefaultIgnoreCondition = JsonIgnoreCondition.Never)]
[JsonSerializable(typeof(SummaryDocument))]
[JsonSerializable(typeof(SummaryState))]
[JsonSerializable(typeof(LogLayout))]
[JsonSerializable(typeof(SummaryAbout))]
internal sealed partial class SummaryContext : JsonSerializerContext;
