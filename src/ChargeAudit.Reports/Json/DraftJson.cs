using ChargeAudit.Checking.Documents;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Reports.Json;

/// <summary>A drafted study in JSON.</summary>
internal static class DraftJson
{
    public static DraftDocument Of(StudyDraft draft, string file) => new(
        SchemaNames.Draft,
        file,
        draft.Title,
        draft.Reference,
        Known.Unless(draft.Reference, "no charge was found to be by cable"),
        draft.CanBeAudited,
        [.. draft.Meters.Select(m => new DraftMeterDocument(m.Name, StableName.Of(m.Point), Remarks(m.Remarks)))],
        [.. draft.Methods.Select(m => new DraftMethodDocument(m.Name, StableName.Of(m.Kind), Remarks(m.Remarks)))],
        [.. draft.Runs.Select(Run)],
        [.. draft.Standby.Select(Run)],
        draft.Guesses,
        draft.Questions,
        PassedOver(draft.PassedOver));

    /// <summary>Files that are not in the study.</summary>
    public static IReadOnlyList<PassedOverDocument> PassedOver(IReadOnlyList<PassedOver> files) =>
        [.. files.Select(f => new PassedOverDocument(f.File, f.Why))];

    private static DraftRunDocument Run(DraftRun run) => new(
        run.Method,
        Known.Unless(run.Method, "nothing tells whether it was charged by cable or on a pad"),
        [.. run.Logs.OrderBy(l => l.Key).Select(l => new DraftLogDocument(StableName.Of(l.Key), l.Value.Files, l.Value.Meter))],
        run.Session,
        Known.Unless(run.Session, "its logs hold one only"),
        Remarks(run.Remarks));

    private static IReadOnlyList<RemarkDocument> Remarks(IReadOnlyList<DraftRemark> remarks) =>
        [.. remarks.Select(r => new RemarkDocument(StableName.Of(r.Kind), r.Text))];
}

/// <summary>A drafted study.</summary>
internal sealed record DraftDocument(
    string Schema,
    string File,
    string Title,
    string? Reference,
    string? ReferenceReason,
    bool CanBeAudited,
    IReadOnlyList<DraftMeterDocument> Meters,
    IReadOnlyList<DraftMethodDocument> Methods,
    IReadOnlyList<DraftRunDocument> Runs,
    IReadOnlyList<DraftRunDocument> Standby,
    IReadOnlyList<string> Guesses,
    IReadOnlyList<string> Questions,
    IReadOnlyList<PassedOverDocument> PassedOver);

/// <summary>A meter of it.</summary>
internal sealed record DraftMeterDocument(string Name, string Point, IReadOnlyList<RemarkDocument> Remarks);

/// <summary>A method of it.</summary>
internal sealed record DraftMethodDocument(string Name, string Kind, IReadOnlyList<RemarkDocument> Remarks);

/// <summary>A run or a stand-by log of it.</summary>
internal sealed record DraftRunDocument(
    string? Method,
    string? MethodReason,
    IReadOnlyList<DraftLogDocument> Logs,
    int? Session,
    string? SessionReason,
    IReadOnlyList<RemarkDocument> Remarks);

/// <summary>A run's log at one point.</summary>
internal sealed record DraftLogDocument(string Point, IReadOnlyList<string> Files, string? Meter);

/// <summary>Why something was drafted so.</summary>
internal sealed record RemarkDocument(string Kind, string Text);
