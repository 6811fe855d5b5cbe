using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What a careful reader should doubt.</summary>
internal static class DoubtSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        // What speaks against the comparison, too few runs and runs left out among it, has a section of its own.
        List<string> doubts = [.. Doubts.OfStudy(result), .. Doubts.OfLogs(result), .. Doubts.OfReading(result), Doubts.Always];
        var blocks = new List<Block> { new Bullets(doubts) };
        if (result.Assumptions.Count > 0)
        {
            blocks.Add(new Paragraph("What the study does not say was assumed to be so:"));
            blocks.Add(new Bullets(Doubts.OfAssumptions(result)));
        }

        return new Section("doubts", "What to doubt", blocks);
    }
}
