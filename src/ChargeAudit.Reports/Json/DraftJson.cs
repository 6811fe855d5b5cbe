using System.Text.Json;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Reports.Json;

/// <summary>A drafted study in JSON.</summary>
internal static class DraftJson
{
    /// <summary>Writes the members of the document.</summary>
    public static void Write(Utf8JsonWriter json, StudyDraft draft, string file)
    {
        json.WriteString("file", file);
        json.WriteString("title", draft.Title);
        LogJson.Optional(json, "reference", draft.Reference, "no charge was found to be wired");
        json.WriteBoolean("canBeAudited", draft.CanBeAudited);
        json.Objects("meters", draft.Meters, m =>
        {
            json.WriteString("name", m.Name);
            json.WriteString("point", StableName.Of(m.Point));
            Remarks(json, m.Remarks);
        });
        json.Objects("methods", draft.Methods, m =>
        {
            json.WriteString("name", m.Name);
            json.WriteString("kind", StableName.Of(m.Kind));
            Remarks(json, m.Remarks);
        });
        json.Objects("runs", draft.Runs, r => Run(json, r));
        json.Objects("standby", draft.Standby, r => Run(json, r));
        json.Strings("guesses", draft.Guesses);
        json.Strings("questions", draft.Questions);
        PassedOver(json, draft.PassedOver);
    }

    /// <summary>Files that are not in the study.</summary>
    public static void PassedOver(Utf8JsonWriter json, IReadOnlyList<PassedOver> files) => json.Objects("passedOver", files, f =>
    {
        json.WriteString("file", f.File);
        json.WriteString("why", f.Why);
    });

    private static void Run(Utf8JsonWriter json, DraftRun run)
    {
        LogJson.Optional(json, "method", run.Method, "nothing tells whether it is wired or inductive");
        json.Objects("logs", run.Logs.OrderBy(l => l.Key), l =>
        {
            json.WriteString("point", StableName.Of(l.Key));
            json.Strings("files", l.Value.Files);
            json.WriteString("meter", l.Value.Meter);
        });
        json.Number("session", run.Session, "its logs hold one only");
        Remarks(json, run.Remarks);
    }

    private static void Remarks(Utf8JsonWriter json, IReadOnlyList<DraftRemark> remarks) => json.Objects("remarks", remarks, r =>
    {
        json.WriteString("kind", StableName.Of(r.Kind));
        json.WriteString("text", r.Text);
    });
}
