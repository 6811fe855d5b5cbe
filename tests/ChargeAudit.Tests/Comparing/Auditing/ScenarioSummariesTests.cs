using System.Text.Json.Nodes;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Measuring;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Json;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Simulation;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>For every scenario, with one charge by each method from nearly full, an audit of summaries says what an audit of the logs
/// says.</summary>
public sealed class ScenarioSummariesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(ScenarioFilesTests.Names), MemberType = typeof(ScenarioFilesTests))]
    public void A_scenario_gives_the_same_results_from_summaries_without_its_logs(string name)
    {
        var scenario = SimulationScenario.Load(Path.Combine(ScenarioFilesTests.Folder(), name));
        RunPlan[] runs = [.. scenario.Runs.DistinctBy(r => r.Method.Name).Select(r => r with { StartShare = 0.85 })];
        Assert.Equal(2, runs.Length);
        foreach (var (file, text) in StudyWriter.Files(Simulator.Run(scenario with { Runs = runs }, scenario.Seed)))
        {
            File.WriteAllText(Path.Combine(_folder, file), text);
        }

        string ofLogs = Audited(null);
        var made = Folder();
        Assert.Equal(ofLogs, Audited(made));
        Assert.NotEmpty(made.Added);

        int removed = 0;
        foreach (string log in Directory.GetFiles(_folder).Where(f => Path.GetExtension(f) is not (".toml" or ".json")))
        {
            File.Delete(log);
            removed++;
        }

        Assert.True(removed >= 3, $"{removed} logs");
        var taken = Folder();
        Assert.Equal(ofLogs, Audited(taken));
        Assert.Equal((made.Added.Count, 0, 0), (taken.Used.Count, taken.Added.Count, taken.PassedOver.Count));
    }

    private SummaryFolder Folder() => new(Path.Combine(_folder, "summaries"), "1", (path, bytes) => AtomicFile.Write(path, bytes));

    // All but where the figures come from.
    private string Audited(SummaryFolder? summaries)
    {
        var audit = Auditor.Run(StudyReader.Load(Path.Combine(_folder, "study.toml")), new AuditOptions { Summaries = summaries });
        var document = JsonNode.Parse(ResultsJson.Audit(audit))!.AsObject();
        document.Remove("provenance");
        return document.ToJsonString();
    }
}
