using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What a reviewer would ask of published figures, with what this audit answers.</summary>
internal static class ReviewSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result) => new("review", "What a reviewer would ask",
    [
        new DataTable(
            "Each question with its figure, or that it is not known",
            [new("Question"), new("Answer")],
            [.. ReviewText.Of(result).Select(q => (IReadOnlyList<string>)[q.Question, q.Answer])]),
    ]);
}
