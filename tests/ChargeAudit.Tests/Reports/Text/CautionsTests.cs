using System.Net;
using ChargeAudit.Cli.Page;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>The cautions in documents, report and page; those of the terminal and of the help: <c>CautionPlacesTests</c>.</summary>
public sealed class CautionsTests
{
    [Theory]
    [InlineData("README.md")]
    [InlineData("docs", "measuring.md")]
    [InlineData("docs", "packages", "README.md")]
    public void The_full_list_stands_word_for_word_in(params string[] file) =>
        Assert.All(Cautions.All, c => Assert.Contains(c, Text(file), StringComparison.Ordinal));

    [Theory]
    [InlineData("README.md")]
    [InlineData("docs", "first-use.md")]
    [InlineData("docs", "year.md")]
    [InlineData("docs", "placement.md")]
    [InlineData("docs", "coils.md")]
    [InlineData("docs", "commands", "README.md")]
    [InlineData("docs", "commands", "measure.md")]
    [InlineData("docs", "commands", "inspect.md")]
    [InlineData("docs", "commands", "simulate.md")]
    [InlineData("docs", "commands", "page.md")]
    [InlineData("docs", "commands", "plan.md")]
    public void The_short_line_stands_word_for_word_in(params string[] file) =>
        Assert.Contains(Cautions.Line, Text(file), StringComparison.Ordinal);

    [Fact]
    public void The_laboratory_rule_stands_at_the_key_for_the_discharge_energy_and_at_the_points_inside_a_product()
    {
        string key = Text("docs", "year.md").Split('\n')
            .Single(l => l.StartsWith("| `[device] battery-discharge`", StringComparison.Ordinal));
        Assert.Contains(Cautions.Laboratory, key, StringComparison.Ordinal);
        string point = Text("docs", "measuring.md").Split('\n').Single(l => l.StartsWith("- `device`:", StringComparison.Ordinal));
        Assert.Contains(Cautions.Laboratory, point, StringComparison.Ordinal);
    }

    // What a charge that runs a day or a night needs, what to do on smoke, and what holds where no distance is known: common practice, no
    // source.
    [Theory]
    [InlineData("hard surface that cannot burn")]
    [InlineData("smoke alarm")]
    [InlineData("24 h and a charge overnight")]
    [InlineData("cut the power at the socket if that is safe")]
    [InlineData("call the fire service")]
    [InlineData("where no distance is known, do not do the test")]
    [InlineData("never open a sealed device")]
    [InlineData("end-of-discharge voltage")]
    public void They_say(string words) => Assert.Contains(Cautions.All, c => c.Contains(words, StringComparison.Ordinal));

    [Fact]
    public void No_document_forbids_to_leave_a_charge_alone_while_others_ask_for_a_day() =>
        Assert.All(
            Directory.EnumerateFiles(Golden.RepositoryFile("docs"), "*.md").Append(Golden.RepositoryFile("README.md"))
                .Where(f => !f.EndsWith("NOTICES.md", StringComparison.Ordinal)),
            f => Assert.DoesNotMatch("(?i)leave a (charge|test|experiment) alone", File.ReadAllText(f)));

    [Fact]
    public void The_report_has_them_in_a_section_and_beside_the_procedure()
    {
        var study = StudyReader.Load(Golden.RepositoryFile("sample-logs", "study.toml"));
        var result =
            Auditor.Run(study,
            new AuditOptions
            {
                ProgramVersion = "0.1.0",
                CommandLine = "chargeaudit audit",
                Clock = TimeProvider.System,
                Procedure = PublishedProcedure.UsAppendixY
            }, TestContext.Current.CancellationToken);
        foreach (string written in new[] { WebUtility.HtmlDecode(HtmlPage.Of(result)), MarkdownReport.Of(result, []) })
        {
            string report = written.Replace('\u00A0', ' '); // values keep together with their units
            Assert.All(Cautions.All, c => Assert.Contains(c, report, StringComparison.Ordinal));
            int procedure = report.IndexOf($"{Cautions.Laboratory} {Cautions.Line}", StringComparison.Ordinal);
            Assert.InRange(procedure, 1, report.IndexOf(Cautions.All[0], StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_page_has_the_full_list()
    {
        string page = WebUtility.HtmlDecode(System.Text.Encoding.UTF8.GetString(PageAssets.Page("n")));
        Assert.All(Cautions.All, c => Assert.Contains($"<li>{c}</li>", page, StringComparison.Ordinal));
        Assert.DoesNotContain("{{", page.Split("<script", 2)[0], StringComparison.Ordinal);
    }

    private static string Text(params string[] file) => File.ReadAllText(Golden.RepositoryFile(file));
}
