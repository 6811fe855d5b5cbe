using ChargeAudit.Checking.Documents;
using ChargeAudit.Coils;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Reports.Json;

/// <summary>The results as JSON documents, as docs/results.md and docs/results.schema.json describe them. Each ends with a line
/// feed.</summary>
public static class ResultsJson
{
    /// <summary>Name and version of the audit's document.</summary>
    public const string AuditSchema = SchemaNames.Audit;

    /// <summary>Name and version of the document about measured logs.</summary>
    public const string MeasureSchema = SchemaNames.Measure;

    /// <summary>Name and version of the document about inspected logs.</summary>
    public const string InspectSchema = SchemaNames.Inspect;

    /// <summary>Name and version of the document about summarized logs.</summary>
    public const string SummarizeSchema = SchemaNames.Summarize;

    /// <summary>Name and version of the document about a simulated study.</summary>
    public const string SimulateSchema = SchemaNames.Simulate;

    /// <summary>Name and version of the document about two coupled coils.</summary>
    public const string CoilsSchema = SchemaNames.Coils;

    /// <summary>Name and version of the document about a drafted study.</summary>
    public const string DraftSchema = SchemaNames.Draft;

    /// <summary>Name and version of the document about a failure.</summary>
    public const string ErrorSchema = SchemaNames.Error;

    /// <summary>The whole answer of an audit.</summary>
    public static string Audit(AuditResult result) => DocumentText.Of(AuditJson.Of(result), DocumentContext.Written);

    /// <summary>Writes the same in UTF-8, without ever holding it as a whole.</summary>
    internal static void WriteAudit(AuditResult result, Stream to) => DocumentText.Write(to, AuditJson.Of(result), DocumentContext.Written);

    /// <summary>Energy, modes and sessions of each log.</summary>
    public static string Measure(IReadOnlyList<LogMeasurement> logs) =>
        ReportContext.Text(new MeasureDocument(MeasureSchema, [.. logs.Select(LogJson.Log)], LogJson.FromSummaries(logs)));

    /// <summary>How each log was understood.</summary>
    public static string Inspect(IReadOnlyList<InspectedLog> logs) =>
        ReportContext.Text(new InspectDocument(InspectSchema, [.. logs.Select(LogJson.Inspected)]));

    /// <summary>What is written instead of results when there are none.</summary>
    /// <param name="status">The program's exit status.</param>
    /// <param name="message">The sentence that the user gets.</param>
    public static string Error(int status, string message) => ReportContext.Text(new ErrorDocument(ErrorSchema, new(status, message)));

    /// <summary>Where a simulated study was written.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="seed">The seed it was made with.</param>
    /// <param name="files">Names of its files.</param>
    /// <param name="replaced">Names of those that stood there before.</param>
    public static string Simulate(string folder, ulong seed, IReadOnlyList<string> files, IReadOnlyList<string> replaced) =>
        ReportContext.Text(new SimulateDocument(SimulateSchema, folder, seed, files, replaced));

    /// <summary>Which logs were summarized.</summary>
    /// <param name="folder">The folder of summaries.</param>
    /// <param name="summaries">What was done there.</param>
    public static string Summarize(string folder, SummaryFolder summaries)
    {
        ArgumentNullException.ThrowIfNull(summaries);
        return ReportContext.Text(new SummarizeDocument(SummarizeSchema, folder, Names(summaries.Added), Names(summaries.Used),
            [.. summaries.PassedOver.Order(StringComparer.Ordinal)]));

        static List<string> Names(IEnumerable<string> files) => [.. files.Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
    }

    /// <summary>A drafted study: every guess and question, and where the file is.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="file">The study file that was written.</param>
    public static string Draft(StudyDraft draft, string file) => ReportContext.Text(DraftJson.Of(draft, file));

    /// <summary>The physics of two coupled coils.</summary>
    public static string Coils(CoilReport report) => ReportContext.Text(CoilsJson.Of(report));
}
