using System.Text.Json.Nodes;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Documents;
using ChargeAudit.Measuring;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>An audit from summaries says what an audit of the logs says.</summary>
public sealed class StudySummariesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public StudySummariesTests()
    {
        string samples = Path.Combine(GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory), "sample-logs");
        foreach (string file in Directory.GetFiles(samples, "*.csv").Append(Path.Combine(samples, "study.toml")))
        {
            File.Copy(file, Path.Combine(_folder, Path.GetFileName(file)));
        }
    }

    private string StudyFile => Path.Combine(_folder, "study.toml");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_sample_study_gives_the_same_results_from_summaries_without_its_logs()
    {
        var (ofLogs, _) = Audited(null);

        // Half of the logs beforehand, as if on another machine; the audit reads and adds the others.
        var before = Folder();
        var study = StudyReader.Load(StudyFile);
        var requests = StudySummaries.Requests(study, new AuditOptions { Summaries = before });
        Assert.Equal(14, requests.Count);
        foreach (var request in requests.Where((_, i) => i % 2 == 0))
        {
            StudySummaries.Summarize(study, request,
                r => LogReading.Of(r, null, TestContext.Current.CancellationToken) is var read ? (read.Own, read.Source) : default);
        }

        var first = Folder();
        Assert.Equal(ofLogs, Audited(first).Results);

        // A log made for waiting is read by its counter as well.
        Assert.Equal(16, first.Used.Count + first.Added.Count);
        Assert.InRange(first.Added.Count, 7, 8);
        foreach (string log in Directory.GetFiles(_folder, "*.csv"))
        {
            File.Delete(log);
        }

        var second = Folder();
        var (fromSummaries, told) = Audited(second);
        Assert.Equal(ofLogs, fromSummaries);
        Assert.Equal((16, 0, 0), (second.Used.Count, second.Added.Count, second.PassedOver.Count));
        Assert.Equal(14, told!.AsArray().Count);
    }

    [Fact]
    public void The_sample_study_gives_the_same_results_from_parts_of_its_logs_without_them()
    {
        var (ofLogs, _) = Audited(null);
        var study = StudyReader.Load(StudyFile);
        var made = Folder();
        foreach (var request in StudySummaries.Requests(study, new AuditOptions { Summaries = made }).Reverse())
        {
            foreach (int number in (int[])[3, 1, 2])
            {
                StudySummaries.Summarize(study, request, r => LogParts.Summarize(r, number, 3, TestContext.Current.CancellationToken));
            }
        }

        Assert.Equal(3 * 16, made.Added.Count);
        foreach (string log in Directory.GetFiles(_folder, "*.csv"))
        {
            File.Delete(log);
        }

        var folder = Folder();
        Assert.Equal(ofLogs, Audited(folder).Results);
        Assert.Equal((0, 16, 0), (folder.Used.Count, folder.Added.Count, folder.PassedOver.Count));
    }

    [Fact]
    public void A_study_may_name_summaries_in_place_of_its_logs()
    {
        var (ofLogs, _) = Audited(null);
        var folder = Folder();
        Audited(folder);

        // The counter of a log of waiting is read from the log itself, which a study that names its summary does not have.
        string[] made = Directory.GetFiles(Path.Combine(_folder, "summaries"), "pad-1-wall*");
        string named = File.ReadAllText(StudyFile).Replace("pad-1-wall.csv", $"summaries/{Path.GetFileName(Assert.Single(made))}",
            StringComparison.Ordinal);
        File.WriteAllText(StudyFile, named);
        File.Delete(Path.Combine(_folder, "pad-1-wall.csv"));
        string results = Audited(null).Results.Replace($"summaries/{Path.GetFileName(made[0])}", "pad-1-wall.csv",
            StringComparison.Ordinal);
        Assert.Equal(ofLogs, results);
    }

    private SummaryFolder Folder() => new(Path.Combine(_folder, "summaries"), "1", (path, bytes) => AtomicFile.Write(path, bytes));

    // All but where the figures come from, and that.
    private (string Results, JsonNode? FromSummaries) Audited(SummaryFolder? summaries)
    {
        var audit = Auditor.Run(StudyReader.Load(StudyFile), new AuditOptions { Summaries = summaries });
        var document = JsonNode.Parse(ResultsJson.Audit(audit))!.AsObject();
        var told = document["provenance"]!["fromSummaries"];
        document.Remove("provenance");

        // A log that was summarized in parts has a hash for each.
        foreach (var file in document["logs"]!.AsArray().SelectMany(l => l!["files"]!.AsArray()))
        {
            file!.AsObject().Remove("sha256");
        }

        return (document.ToJsonString(), told);
    }
}
