using ChargeAudit.Analysis.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What each stage of the chain loses.</summary>
internal static class LossSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        if (result.Stages.Count == 0)
        {
            return new Section("losses", "Where the energy goes", [new Paragraph("Losses are not known: they need meters at two measuring points of one method.")]);
        }

        return new Section("losses", "Where the energy goes",
        [
            .. Cells.Picture(keys, "losses"),
            new DataTable(
                "Stages over a charge",
                [new("Method"), new("Stage"), new("From"), new("To"), new("Efficiency", ColumnKind.Number), new("Loss per charge", ColumnKind.Number)],
                [.. result.Stages.Select(s => (IReadOnlyList<string>)[
                    s.Method,
                    Words.Stage(s.From, s.To, result.Methods.First(m => m.Name == s.Method).Kind),
                    Words.Place(s.From),
                    Words.Place(s.To),
                    Cells.Percent(s.Efficiency),
                    Cells.Of(s.Loss)])]),
        ]);
    }
}
