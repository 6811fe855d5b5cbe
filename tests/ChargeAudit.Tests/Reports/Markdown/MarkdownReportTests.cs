using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Markdown;

namespace ChargeAudit.Tests.Reports.Markdown;

public sealed class MarkdownReportTests
{
    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_report_is_the_same_under_every_culture(string culture) =>
        Golden.Check("report.md", Golden.Under(culture, () => Report(Small())));

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void A_report_without_uncertainty_wall_or_price_gives_the_reasons(string culture) =>
        Golden.Check("report-bare.md",
            Golden.Under(culture,
            () => Report(Small() with { KnownUncertainty = false, WallMeasured = false, PriceOrNone = 0, Runs = 1 })));

    [Fact]
    public void Names_are_not_taken_for_markup()
    {
        string text = Report(Small() with { Pad = "a|b *c* <i>d</i> [e](f)" });
        Assert.Contains("a\\|b \\*c\\* &lt;i&gt;d&lt;/i&gt; \\[e\\](f)", text, StringComparison.Ordinal);
        Assert.DoesNotContain("<i>", text, StringComparison.Ordinal);
        var rows = text.Split('\n').Where(l => l.StartsWith("| a\\|b", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(rows);
        Assert.All(rows, r => Assert.EndsWith(" |", r, StringComparison.Ordinal));
    }

    private static string Report(ReportFixture fixture)
    {
        var result = fixture.Build();
        return MarkdownReport.Of(result, ChartSet.Of(result));
    }

    private static ReportFixture Small() => new() { SamplesPerLog = 60, IntervalS = 120, Runs = 3 };
}
