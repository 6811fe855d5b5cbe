using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What a careful reader should doubt.</summary>
internal static class DoubtSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        // What speaks against the comparison, too few runs and runs left out among it, has a section of its own.
        var doubts = Doubts.OfStudyAndLogs(result);
        var blocks = new List<Block>
        {
            new Bullets([.. doubts.Where(d => d.Gravity < Gravity.Assumed).Select(d => d.Text), Doubts.Always]),
        };
        string[] assumed =
            [.. doubts.Where(d => d.Gravity == Gravity.Assumed).Select(d => d.Text), .. Doubts.OfAssumptions(result)];
        Add(blocks, "What the study does not say was assumed to be so:", assumed);
        Add(blocks, "How the logs were read:", [.. doubts.Where(d => d.Gravity == Gravity.Reading).Select(d => d.Text)]);

        return new Section("doubts", "What to doubt", blocks);
    }

    private static void Add(List<Block> blocks, string heading, string[] sentences)
    {
        if (sentences.Length > 0)
        {
            blocks.Add(new Paragraph(heading));
            blocks.Add(new Bullets(sentences));
        }
    }
}
