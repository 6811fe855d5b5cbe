using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Studies;

/// <summary>The block of a run: from its key to the results.</summary>
public sealed class BlockKeysTests
{
    [Fact]
    public void The_block_of_a_run_is_read() =>
        Assert.Equal(["Mon", "Tue"],
            StudyReader.Read("study.toml", Text("block = \"Mon\"", "block = \"Tue\""), "here").Runs.Select(r => r.Block));

    [Theory]
    [InlineData("block = \"Mon\"", "", "[runs[2]] has no block, and cable-1 has one; give the block of every run of cable, or of none")]
    [InlineData("", "block = \"Mon\"", "[runs[2]] has a block, and cable-1 has none")]
    [InlineData("block = \" \"", "", "line 7: runs[1].block names no block; name the day, set-up, operator or place")]
    [InlineData("block = 3", "", "runs[1].block is the number 3; a text in quotes was expected")]
    public void What_cannot_be_is_refused(string first, string second, string expected)
    {
        var e = Assert.Throws<InputException>(() => StudyReader.Read("study.toml", Text(first, second), "here"));
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
    }

    // Two days of two runs each of 8, 8.1, 9 and 9.1 W for an hour: within a day they differ by 0.1 Wh (s² = 0.005), the days' means by
    // 1 Wh (s² = 0.5), so the mean has u = √(0.5/2) = 0.5 Wh.
    [Fact]
    public void An_audit_tells_both_scatters_and_what_further_runs_would()
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-blocks-").FullName;
        try
        {
            double[] powers = [8, 8.1, 9, 9.1];
            string[] days = ["Mon", "Mon", "Tue", "Tue"];
            for (int i = 0; i < powers.Length; i++)
            {
                File.WriteAllLines(Path.Combine(folder, $"c{i}.csv"), Enumerable.Range(0, 6000).Select(t =>
                    InvariantText.Of($"{t},{(t is >= 300 and < 3900 ? powers[i] : 0):F3}")).Prepend("time_s,power_W"));
            }

            string study = Path.Combine(folder, "study.toml");
            File.WriteAllText(study, """
                [methods.cable]
                kind = "wired"
                [meters.bench]
                samples = "average-starting"
                accuracy = { power = "0.1 %" }

                """ + string.Concat(days.Select((day, i) =>
                $$"""
                [[runs]]
                method = "cable"
                block = "{{day}}"
                logs = { usb = { file = "c{{i}}.csv", meter = "bench" } }

                """)));
            var audit = Auditor.Run(StudyReader.Load(study),
                new AuditOptions { ProgramVersion = "", CommandLine = "", StudyFile = study, Clock = TimeProvider.System },
                TestContext.Current.CancellationToken);
            var point = audit.Methods[0].Points.Values.Single();
            Assert.Equal(8.55, point.EnergyPerCharge.Value!.Value, 0.005);
            Assert.Equal(0.005, point.Blocks!.VarianceWithin!.Value, 1e-3);
            Assert.Equal(0.5 - 0.0025, point.Blocks.VarianceBetween!.Value, 0.01);
            Assert.Equal(0.5, point.EnergyPerCharge.Value.StandardUncertainty!.Value, 0.01);
            Assert.Contains("in 2 blocks, runs scatter by 0.07", Assert.Single(BlockText.Of(audit)), StringComparison.Ordinal);
            string json = ResultsJson.Audit(audit);
            Assert.Empty(ResultsSchema.Problems(json));
            Assert.Contains("\"block\": \"Tue\"", json, StringComparison.Ordinal);
            Assert.Contains("\"betweenWh\"", json, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Text(string first, string second) => $$"""
        [methods.cable]
        kind = "wired"
        [meters.plug]
        point = "wall"
        [[runs]]
        method = "cable"
        {{first}}
        logs = { wall = { file = "c1.csv", meter = "plug" } }
        [[runs]]
        method = "cable"
        {{second}}
        logs = { wall = { file = "c2.csv", meter = "plug" } }
        """;
}
