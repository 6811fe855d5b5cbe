using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>The ratio under three rules for the end of a charge.</summary>
internal static class EndRuleBlocks
{
    /// <summary>A table and what it means; nothing where the device itself said when it was full.</summary>
    public static IEnumerable<Block> Of(AuditResult result)
    {
        var judged = result.Comparisons.Where(c => c.EndRules.Count > 0).ToList();
        if (judged.Count == 0)
        {
            yield break;
        }

        var rules = judged[0].EndRules.Select(e => e.Rule).ToList();
        yield return new DataTable(
            "The overhead ratio if the charges ended by another rule",
            [new("Method"), new("Measured"), .. rules.Select(r => new Column(Name(r), ColumnKind.Number))],
            [.. judged.Select(c => (IReadOnlyList<string>)[
                $"{c.Method} against {c.Reference}", Words.At(c.Point), .. rules.Select(r => Text(c.EndRules.First(e => e.Rule == r)))])]);
        yield return new Paragraph(
            "Two charges can be compared only if the battery is equally full at their ends. The first two rules do not depend on the "
                + "way of "
                + "charging; where they differ, "
            + "the end is less sure than it looks, and half their difference is part of the ratio's uncertainty. The plain share is for "
                + "information only: a pad's "
            + "fixed losses keep its input up, so this rule ends a pad at a fuller battery than a cable.");
    }

    /// <summary>A rule in few words.</summary>
    public static string Name(EndRule rule) => rule switch
    {
        EndRule.ShareAboveFloor => "Power above its level when full has fallen to a tenth",
        EndRule.ChangePoint => "Power levels off",
        _ => "Plain share (information only)",
    };

    private static string Text(EndRuleRatio e) => e.Ratio is { } ratio ? "×\u00a0" + FigureText.Plain(ratio, "", 4) : "not known: "
        + $"{e.WhyNot}";
}
