using System.Text.Json;
using System.Text.Json.Serialization;
using ChargeAudit.Checking.Documents;

namespace ChargeAudit.Reports.Json;

/// <summary>How the documents that are only written become JSON, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(MeasureDocument))]
[JsonSerializable(typeof(InspectDocument))]
[JsonSerializable(typeof(SimulateDocument))]
[JsonSerializable(typeof(SummarizeDocument))]
[JsonSerializable(typeof(ErrorDocument))]
[JsonSerializable(typeof(CoilsDocument))]
[JsonSerializable(typeof(DraftDocument))]
[JsonSerializable(typeof(CheckDocument))]
[JsonSerializable(typeof(PlanDocument))]
[JsonSerializable(typeof(DevicesPlanDocument))]
[JsonSerializable(typeof(PooledDocument))]
[JsonSerializable(typeof(BundleDocument))]
[JsonSerializable(typeof(BundleVerificationDocument))]
internal sealed partial class ReportContext : JsonSerializerContext
{
    // A context of its own, as the default one may not be there yet when this is made.
    private static readonly JsonSerializerOptions Written = DocumentText.Options(new ReportContext());

    /// <summary>The text of a document; it ends with a line feed.</summary>
    public static string Text<T>(T document) => DocumentText.Of(document, Written);
}

/// <summary>Measured logs.</summary>
internal sealed record MeasureDocument(string Schema, IReadOnlyList<LogDocument> Logs,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<FromSummaryDocument>? FromSummaries);

/// <summary>Inspected logs.</summary>
internal sealed record InspectDocument(string Schema, IReadOnlyList<InspectedLogDocument> Logs);

/// <summary>A log that was looked at without working out any energy.</summary>
internal sealed record InspectedLogDocument(
    string File,
    string Sha256,
    long Bytes,
    long Rows,
    long RowsSkipped,
    MeasuredDocument? Duration,
    string? DurationReason,
    string Format,
    DialectDocument? Dialect,
    string? DialectReason,
    IReadOnlyList<ColumnDocument> Columns,
    TimeDocument Time,
    SamplingDocument Sampling,
    IReadOnlyDictionary<string, double?> Resolution,
    IReadOnlyList<string> Notes,
    IReadOnlyList<FaultDocument> Faults);

/// <summary>Where a simulated study was written.</summary>
internal sealed record SimulateDocument(string Schema, string Folder, ulong Seed, IReadOnlyList<string> Files,
    IReadOnlyList<string> Replaced);

/// <summary>Summarized logs.</summary>
internal sealed record SummarizeDocument(string Schema, string Folder, IReadOnlyList<string> Summarized, IReadOnlyList<string> AlreadyThere,
    IReadOnlyList<string> NotUsed);

/// <summary>A failure.</summary>
internal sealed record ErrorDocument(string Schema, FailureDocument Error);

/// <summary>What went wrong.</summary>
internal sealed record FailureDocument(int Status, string Message);
