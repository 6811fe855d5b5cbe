using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Documents;

/// <summary>A measured quantity: one shape everywhere.</summary>
internal sealed record MeasuredDocument
{
    public required double Value { get; init; }
    public required string Unit { get; init; }
    public double? U { get; init; }
    public string? UReason { get; init; }
    public double? Low { get; init; }
    public double? High { get; init; }
    public double? Coverage { get; init; }
    public double? K { get; init; }
    public double? Dof { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Assumed { get; init; }

    public required IReadOnlyList<ComponentDocument> Components { get; init; }
}

/// <summary>What one source brings to its uncertainty. Owner, kind and part say what it is; the source's text is for people.</summary>
internal sealed record ComponentDocument
{
    public string? Source { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Design { get; init; }

    public required string? Owner { get; init; }
    public required string? OwnerName { get; init; }
    public required string Kind { get; init; }
    public required string Part { get; init; }
    public required double? U { get; init; }
    public required double? Dof { get; init; }
    public required bool Shared { get; init; }
    public required string Shape { get; init; }
}
