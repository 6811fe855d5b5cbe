using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Whether the runs can be compared at all.</summary>
internal static class FairnessSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result) => new("fairness", "Whether the comparison is fair",
    [
        result.Fairness.Count == 0
            ? new Paragraph("Nothing was found that speaks against comparing these runs.")
            : new Bullets(
                [.. Doubts.OfFairness(result)
                    .Select(n => n.Text + (n.Runs.Count > 0 ? $" (runs: {string.Join(", ", n.Runs)})" : ""))]),
    ]);
}
