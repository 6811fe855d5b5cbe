using System.Globalization;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation.Coverage;

/// <summary>
/// Do the audit's 95 % intervals hold the truth? In its smoke form one study each of two scenarios; with CHARGEAUDIT_COVERAGE_SEEDS=1-40
/// set, these seeds of each of the ten, and then the share itself is held to account. docs/simulate.md gives the command.
/// </summary>
public sealed class AuditCoverageTests(ITestOutputHelper output)
{
    private const int EnoughToTell = 300;

    private static readonly string[] Smoke = ["02-watch.toml", "06-small-phone.toml"];

    [Fact]
    public void Intervals_of_the_audit_hold_the_truth_about_as_often_as_they_say()
    {
        string? asked = Environment.GetEnvironmentVariable("CHARGEAUDIT_COVERAGE_SEEDS");
        ulong[] seeds = SeedsOf(asked ?? "1-1");
        string folder = Directory.CreateTempSubdirectory("chargeaudit-coverage-").FullName;
        List<CoverageTrial> trials = [];
        try
        {
            foreach (string file in asked is null ? Smoke.Select(n => Path.Combine(ScenarioFilesTests.Folder(), n))
                : Directory.GetFiles(ScenarioFilesTests.Folder(), "*.toml"))
            {
                SimulationScenario scenario = SimulationScenario.Load(file);
                ExpectedTruth expected =
                    ExpectedTruth.Of(scenario, [.. Enumerable.Range(0, asked is null ? 3 : 400).Select(i => 1_000_000UL + (ulong)i)]);
                IntervalCoverage.Count([scenario], seeds, study =>
                {
                    var own = AuditTrials.Of(study, expected, folder, TimeProvider.System);
                    trials.AddRange(own);
                    return own;
                });
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        var rows = IntervalCoverage.Rows(trials);
        output.WriteLine(IntervalCoverage.ToMarkdown(rows));
        CoverageRow ratio = rows.Single(r => r.Figure == "overheadRatio/wall");
        Assert.Equal(0, ratio.Unknown);
        // A ratio that is off by 5 % is no matter of chance in any of these scenarios.
        Assert.InRange(ratio.RootMeanSquareErrorPercent, 0, 5);

        // Fewer studies cannot tell 95 from 90 %.
        Assert.All(rows.Where(r => r.Trials >= EnoughToTell), r => Assert.InRange(r.Share, 0.93, 0.97));
    }

    private static ulong[] SeedsOf(string range)
    {
        string[] ends = range.Split('-');
        int first = int.Parse(ends[0], CultureInfo.InvariantCulture);
        return [.. Enumerable.Range(first, int.Parse(ends[^1], CultureInfo.InvariantCulture) - first + 1).Select(i => (ulong)i)];
    }
}
