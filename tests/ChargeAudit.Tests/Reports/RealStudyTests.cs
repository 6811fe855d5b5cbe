using System.Text.Json.Nodes;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Tables;
using ChargeAudit.Reports.Csv;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Reports;

/// <summary>The writers fed by the real analysis of the sample logs, and not by an invented answer.</summary>
public sealed class RealStudyTests
{
    private static readonly Lazy<AuditResult> Result = new(() => Auditor.Run(
        StudyReader.Load(Golden.RepositoryFile("sample-logs", "study.toml")),
        new AuditOptions
        {
            ProgramVersion = "0.1.0",
            CommandLine = "chargeaudit audit sample-logs/study.toml",
            StudyFile = Golden.RepositoryFile("sample-logs", "study.toml"),
            Clock = TimeProvider.System,
            Procedure = PublishedProcedure.UsAppendixY,
        }));

    [Fact]
    public void Its_document_fits_the_schema() => Assert.Empty(ResultsSchema.Problems(ResultsJson.Audit(Result.Value)));

    [Fact]
    public void Its_logs_fit_the_schema_of_measured_logs() => Assert.Empty(ResultsSchema.Problems(ResultsJson.Measure(Result.Value.Logs)));

    [Fact]
    public void Its_page_is_small_and_tells_every_figure_or_why_not()
    {
        string page = HtmlPage.Of(Result.Value);
        Assert.InRange(page.Length, 200_000, 1_500_000);
        Assert.DoesNotContain(">NaN", page, StringComparison.Ordinal);
        Assert.DoesNotContain("not a number", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<td></td>", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_offset_of_its_clocks_is_found_to_within_one_reading()
    {
        var truth = JsonNode.Parse(File.ReadAllText(Golden.RepositoryFile("sample-logs", "truth.json")))!["runs"]!.AsArray();
        foreach (var run in Result.Value.Methods.SelectMany(m => m.Runs))
        {
            var logs = truth.Single(r => (string)r!["id"]! == run.Id)!["logs"]!.AsArray();
            double Ahead(string point) => (double)logs.Single(l => (string)l!["point"]! == point)!["clockAheadS"]!;
            var clock = Assert.Single(run.Clocks);
            Assert.True(clock.Applied);

            // The log at the adapter's output has a reading a second.
            Assert.InRange(clock.AheadS.Value!.Value - (Ahead("wall") - Ahead("usb")), -1, 1);
        }
    }

    [Fact]
    public void Its_table_holds_each_run_once_where_it_counts()
    {
        var table = SessionTable.Of(Result.Value);
        string[] lines = TableCsv.Text(table).TrimEnd('\n').Split('\n');
        Assert.Equal(table.Rows.Count + 1, lines.Length);
        Assert.Equal(
            Result.Value.Methods.SelectMany(m => m.Runs).Where(r => r.Excluded is null).Sum(r => r.Points.Count),
            lines.Count(l => l.Contains(",charge,true,", StringComparison.Ordinal)));
    }
}
