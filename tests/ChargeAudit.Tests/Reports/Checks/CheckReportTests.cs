using System.Text.Json;
using System.Xml.Linq;
using ChargeAudit.Checking;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.JUnit;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Tests.Checking;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Reports.Checks;

public sealed class CheckReportTests
{
    public static TheoryData<double, string> Verdicts => new() { { 1.0, "pass" }, { 1.05, "fail" }, { 1.0195, "inconclusive" } };

    [Theory]
    [MemberData(nameof(Verdicts))]
    public void Json_has_the_verdict_and_fits_the_schema(double ratio, string verdict)
    {
        string text = CheckJson.Of(Result(ratio));
        var root = JsonDocument.Parse(text).RootElement;
        Assert.Equal(verdict, root.GetProperty("verdict").GetString());
        Assert.Equal(0.02, root.GetProperty("margin").GetDouble());
        Assert.Equal(ratio, root.GetProperty("ratio").GetProperty("value").GetDouble(), 1e-9);
        Assert.NotEqual(0, root.GetProperty("reasons").GetArrayLength());
        Assert.Equal(verdict, root.GetProperty("figures")[0].GetProperty("verdict").GetString());
        Assert.Empty(ResultsSchema.Problems(text));
    }

    [Theory]
    [InlineData(1.0, 0, 0)]
    [InlineData(1.05, 2, 0)]
    [InlineData(1.0195, 0, 2)]
    public void JUnit_counts_are_those_of_its_cases(double ratio, int failures, int errors)
    {
        var suite = XDocument.Parse(CheckJUnit.Of(Result(ratio))).Root!.Element("testsuite")!;
        Assert.Equal("2", suite.Attribute("tests")!.Value);
        Assert.Equal(2, suite.Elements("testcase").Count());
        Assert.Equal((failures, failures), ((int)suite.Attribute("failures")!, suite.Descendants("failure").Count()));
        Assert.Equal((errors, errors), ((int)suite.Attribute("errors")!, suite.Descendants("error").Count()));
    }

    [Fact]
    public void A_hostile_title_breaks_neither_xml_nor_markdown()
    {
        var hostile = Result(1.05) with { Candidate = "a\u0001<b>|`\"&]]>\nc" };
        Assert.Contains("<b>|`\"&]]>", XDocument.Parse(CheckJUnit.Of(hostile)).Root!.Element("testsuite")!.Attribute("name")!.Value,
            StringComparison.Ordinal);
        string markdown = CheckMarkdown.Of(hostile);
        Assert.DoesNotContain("<b>", markdown, StringComparison.Ordinal);
        Assert.Single(markdown.Split('\n'), l => l.StartsWith("| pad", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void Every_document_is_the_same_under_every_culture(string culture)
    {
        var result = Result(1.0195);
        string[] Make() => [CheckJson.Of(result), CheckJUnit.Of(result), CheckMarkdown.Of(result)];
        Assert.Equal(Make(), Golden.Under(culture, Make));
        Assert.Contains("+1.95 %", Golden.Under(culture, Make)[2], StringComparison.Ordinal);
    }

    [Fact]
    public void A_drift_is_in_every_document()
    {
        List<HistoryEntry> rising = [.. Enumerable.Range(0, 10).Select(i => HistoryFileTests.Entry($"{i}", 13 * Math.Pow(1.004, i + 1)))];
        var finding = Assert.Single(DriftTest.Series(rising, (_, _) => 0.02)).Finding;
        var result = Checker.WithDrifts(Result(1.0), [finding]);
        Assert.Equal(CheckVerdict.Fail, result.Verdict);
        Assert.Contains("drifts upwards", result.Reasons[0], StringComparison.Ordinal);
        Assert.Empty(ResultsSchema.Problems(CheckJson.Of(result)));
        Assert.Equal(2, XDocument.Parse(CheckJUnit.Of(result)).Descendants("failure").Count());
        Assert.Contains("drifts upwards", CheckMarkdown.Of(result), StringComparison.Ordinal);
    }

    private static CheckResult Result(double ratio)
    {
        double[] before = [10.00, 10.02, 9.98, 10.01, 9.99];
        return Checker.Run(
            CheckCases.Design("new", [.. before.Select(e => e * ratio)]), CheckCases.Design("base", before), CheckCases.EnergyOnly(0.02));
    }
}
