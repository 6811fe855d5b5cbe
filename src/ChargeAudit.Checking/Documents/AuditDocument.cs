using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Documents;

// The records of results.json, as docs/results.md and docs/results.schema.json describe it: written from an audit, and read as a baseline.
// Members are in the document's order. What is required is what a reader needs; the rest may be missing in documents of other versions of
// the program. A member that is null for want of knowledge has its reason in the member after it.

/// <summary>The answer of an audit.</summary>
internal sealed record AuditDocument
{
    public string Schema { get; init; } = SchemaNames.Audit;
    public required string Title { get; init; }
    public string? Reference { get; init; }
    public required DeviceDocument Device { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<InstrumentDocument>? Instruments { get; init; }

    public TariffDocument? Tariff { get; init; }
    public string? TariffReason { get; init; }
    public IReadOnlyList<string>? Assumptions { get; init; }
    public required IReadOnlyList<MethodDocument> Methods { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<CorrectionDocument>? Corrections { get; init; }

    public IReadOnlyList<StageDocument>? Stages { get; init; }
    public IReadOnlyList<LossSplitDocument>? Losses { get; init; }
    public IReadOnlyList<AdapterCurveDocument>? AdapterCurves { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? NoAdapterCurve { get; init; }

    public IReadOnlyList<ComparisonDocument>? Comparisons { get; init; }
    public IReadOnlyList<YearDifferenceDocument>? YearDifferences { get; init; }
    public IReadOnlyList<PaybackDocument>? Paybacks { get; init; }
    public IReadOnlyList<YardsticksDocument>? Yardsticks { get; init; }
    public ProcedureDocument? Procedure { get; init; }
    public string? ProcedureReason { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public PlacementDocument? Placement { get; init; }

    public IReadOnlyList<FairnessDocument>? Fairness { get; init; }
    public IReadOnlyList<string>? Doubts { get; init; }
    public IReadOnlyList<FaultDocument>? Faults { get; init; }
    public required IReadOnlyList<LogDocument> Logs { get; init; }
    public required ProvenanceDocument Provenance { get; init; }
}

/// <summary>The device that is charged.</summary>
internal sealed record DeviceDocument
{
    public required string? Name { get; init; }
    public string? NameReason { get; init; }
    public required double? BatteryWh { get; init; }
    public string? BatteryWhReason { get; init; }
    public double? BatteryDischargeWh { get; init; }
    public string? BatteryDischargeWhReason { get; init; }
    public double? BatteryDischargeWithinWh { get; init; }
    public string? BatteryDischargeWithinWhReason { get; init; }
}

/// <summary>Which instrument a meter's name stands for.</summary>
internal sealed record InstrumentDocument(string Meter, string Instrument);

/// <summary>The price of energy.</summary>
internal sealed record TariffDocument(string Currency, double? PricePerKwh, string? PricePerKwhReason, string InWords);

/// <summary>What a calibration changed in one figure: as read, and what was added.</summary>
internal sealed record CorrectionDocument(
    string Method, string Point, string Figure, double? AsRead, double? Correction, string Unit, string By);

/// <summary>A reason why runs may not be comparable.</summary>
internal sealed record FairnessDocument(string Id, string Text, IReadOnlyList<string> Runs, string? Gravity);

/// <summary>Where the results come from.</summary>
internal sealed record ProvenanceDocument
{
    public string? ProgramVersion { get; init; }
    public string? Study { get; init; }
    public string? StudyReason { get; init; }
    public string? StudySha256 { get; init; }
    public string? StudySha256Reason { get; init; }
    public DateTimeOffset Created { get; init; }
    public string? CommandLine { get; init; }
    public string? CommandLineReason { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public bool? Drafted { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<PassedOverDocument>? PassedOver { get; init; }

    public required IReadOnlyList<LogHashDocument> Logs { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<FromSummaryDocument>? FromSummaries { get; init; }
}

/// <summary>A log that was not read, because a summary stood for it.</summary>
/// <param name="File">The log's file.</param>
/// <param name="Sha256">SHA-256 of its bytes as they were when it was summarized.</param>
/// <param name="Schema">Version of the summary's form.</param>
/// <param name="ProgramVersion">Version of the program that summarized it.</param>
internal sealed record FromSummaryDocument(string File, string Sha256, int Schema, string ProgramVersion);

/// <summary>A file that is in no study.</summary>
internal sealed record PassedOverDocument(string File, string Why);

/// <summary>A log's file and what identifies its bytes.</summary>
internal sealed record LogHashDocument
{
    public required string File { get; init; }
    public required string Sha256 { get; init; }
}
