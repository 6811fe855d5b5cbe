using ChargeAudit.Comparing.Results;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What a careful reader should doubt.</summary>
internal static class DoubtSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        var doubts = new List<string>(result.Doubts);
        doubts.AddRange(result.Logs.SelectMany(l => l.Doubts, (log, doubt) => $"{string.Join(" + ", log.Files)}: {doubt}"));
        doubts.AddRange(result.Logs.SelectMany(l => l.Layout.Notes, (log, note) => $"{string.Join(" + ", log.Files)}: {note}"));
        foreach (var method in result.Methods)
        {
            int runs = method.Runs.Count(r => r.Excluded is null);
            if (runs < 3)
            {
                doubts.Add(
                    $"{method.Name} has {(runs == 1 ? "one run" : runs == 0 ? "no run" : "two runs")} that counts: with fewer than three "
                    + "runs, how much charges differ by themselves is hardly known.");
            }
        }

        doubts.AddRange(result.Methods.SelectMany(m => m.Runs).Where(r => r.Excluded is not null)
            .Select(r => $"Run {r.Id} is left out: {r.Excluded}."));
        doubts.Add(
            "The figures hold for this device, charger, position on the pad and temperature. Another position alone can change what a "
            + "pad takes.");
        var blocks = new List<Block> { new Bullets(doubts) };
        if (result.Assumptions.Count > 0)
        {
            blocks.Add(new Paragraph("Where the study did not say, this was assumed:"));
            blocks.Add(new Bullets(result.Assumptions));
        }

        return new Section("doubts", "What to doubt", blocks);
    }
}
