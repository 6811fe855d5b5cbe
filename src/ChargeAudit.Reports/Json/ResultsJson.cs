using ChargeAudit.Checking;
using ChargeAudit.Coils;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Reports.Json;

/// <summary>The results as JSON documents, as docs/results.md and docs/results.schema.json describe them. Each ends with a line feed.</summary>
public static class ResultsJson
{
    /// <summary>Name and version of the audit's document.</summary>
    public const string AuditSchema = BaselineReader.Schema;

    /// <summary>Name and version of the document about measured logs.</summary>
    public const string MeasureSchema = "chargeaudit-measure/1";

    /// <summary>Name and version of the document about inspected logs.</summary>
    public const string InspectSchema = "chargeaudit-inspect/1";

    /// <summary>Name and version of the document about a simulated study.</summary>
    public const string SimulateSchema = "chargeaudit-simulate/1";

    /// <summary>Name and version of the document about two coupled coils.</summary>
    public const string CoilsSchema = "chargeaudit-coils/1";

    /// <summary>Name and version of the document about a drafted study.</summary>
    public const string DraftSchema = "chargeaudit-draft/1";

    /// <summary>Name and version of the document about a failure.</summary>
    public const string ErrorSchema = "chargeaudit-error/1";

    /// <summary>The whole answer of an audit.</summary>
    public static string Audit(AuditResult result) => JsonText.Document(AuditSchema, json => AuditJson.Write(json, result));

    /// <summary>Energy, modes and sessions of each log.</summary>
    public static string Measure(IReadOnlyList<LogMeasurement> logs) =>
        JsonText.Document(MeasureSchema, json => json.Objects("logs", logs, log => LogJson.Log(json, log)));

    /// <summary>How each log was understood.</summary>
    public static string Inspect(IReadOnlyList<InspectedLog> logs) => JsonText.Document(InspectSchema, json => json.Objects("logs", logs, log =>
    {
        json.WriteString("file", log.File);
        json.WriteString("sha256", log.Outcome.Sha256);
        json.WriteNumber("bytes", log.Outcome.Bytes);
        json.WriteNumber("rows", log.Outcome.Rows);
        json.WriteNumber("rowsSkipped", log.Outcome.RowsSkipped);
        json.Plain("duration", log.DurationS, "s", "the uncertainty of the meter's clock is not worked out");
        LogJson.Layout(json, log.Layout);
        LogJson.Faults(json, log.Outcome.Faults);
    }));

    /// <summary>What is written instead of results when there are none.</summary>
    /// <param name="status">The program's exit status.</param>
    /// <param name="message">The sentence that the user gets.</param>
    public static string Error(int status, string message) => JsonText.Document(ErrorSchema, json =>
    {
        json.WriteStartObject("error");
        json.WriteNumber("status", status);
        json.WriteString("message", message);
        json.WriteEndObject();
    });

    /// <summary>Where a simulated study was written.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="seed">The seed it was made with.</param>
    /// <param name="files">Names of its files.</param>
    /// <param name="replaced">Names of those that stood there before.</param>
    public static string Simulate(string folder, ulong seed, IReadOnlyList<string> files, IReadOnlyList<string> replaced) => JsonText.Document(SimulateSchema, json =>
    {
        json.WriteString("folder", folder);
        json.WriteNumber("seed", seed);
        json.Strings("files", files);
        json.Strings("replaced", replaced);
    });

    /// <summary>A drafted study: every guess and question, and where the file stands.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="file">The study file that was written.</param>
    public static string Draft(StudyDraft draft, string file) => JsonText.Document(DraftSchema, json => DraftJson.Write(json, draft, file));

    /// <summary>The physics of two coupled coils.</summary>
    public static string Coils(CoilReport report) => JsonText.Document(CoilsSchema, json => CoilsJson.Write(json, report));
}
