using ChargeAudit.Comparing.Results;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Published limits beside the figures.</summary>
internal static class YardstickSection
{
    /// <summary>What is said above any published limit.</summary>
    public const string NotACertificate =
        "For information, not a certificate: whether a product falls under a rule, and was tested as the rule asks, no log can tell.";

    /// <summary>How current the limits are.</summary>
    public const string ReadOn = "Rules change: each limit carries the day on which its text was last read.";

    /// <summary>What is missing where an adapter's limits cannot be named.</summary>
    public const string NoAdapter =
        "The European limits of mains adapters depend on what the nameplate says: give output and kind under [adapter] to see them.";

    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        var blocks = new List<Block> { new Paragraph($"{NotACertificate} {ReadOn}") };
        foreach (var method in result.Yardsticks.Where(y => y.Findings.Count > 0))
        {
            blocks.Add(new Subheading(method.Method));
            blocks.Add(new Bullets([.. method.Findings.Select(f => f.Text)]));
        }

        if (!result.Yardsticks.SelectMany(y => y.Findings).Any(f => f.Yardstick.Id.StartsWith("eu-2019-1782", StringComparison.Ordinal)))
        {
            blocks.Add(new Paragraph(NoAdapter));
        }

        return new Section("published-limits", "Published limits", blocks);
    }
}
