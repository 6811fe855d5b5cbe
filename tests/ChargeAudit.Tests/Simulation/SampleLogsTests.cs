using System.Text;
using System.Text.Json;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;

namespace ChargeAudit.Tests.Simulation;

/// <summary>The study in sample-logs/ is what its scenario gives, on this machine as on the one that wrote it.</summary>
public sealed class SampleLogsTests
{
    private static readonly Lazy<SimulatedStudy> Study = new(() => Simulator.Run(SampleStudy.Scenario, SampleStudy.Scenario.Seed));

    private static string Folder => Path.Combine(Root(), "sample-logs");

    [Fact]
    public void The_generator_writes_the_committed_sample_to_the_last_byte()
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-sample-").FullName;
        try
        {
            WrittenStudy.To(Study.Value, folder);
            foreach (string written in Directory.GetFiles(folder))
            {
                string committed = Path.Combine(Folder, Path.GetFileName(written));
                Assert.True(File.Exists(committed), committed + " is not committed");
                Assert.True(File.ReadAllBytes(written).AsSpan().SequenceEqual(File.ReadAllBytes(committed)), committed
                    + " differs from what the generator writes");
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void The_committed_sample_holds_no_log_that_the_generator_does_not_write()
    {
        var written = StudyWriter.Files(Study.Value).Select(f => f.Name).Append("scenario.toml").ToHashSet();
        string[] stray = [.. Directory.GetFiles(Folder).Select(f => Path.GetFileName(f)!)
            .Where(f => !f.StartsWith('.') && !f.EndsWith(".md", StringComparison.Ordinal) && !written.Contains(f))];
        Assert.Empty(stray);
    }

    [Fact]
    public void The_sample_stays_small_enough_to_ship()
    {
        var sizes = StudyWriter.Files(Study.Value).Select(f => Encoding.UTF8.GetByteCount(f.Text)).ToList();
        Assert.InRange(sizes.Max(), 1, 600_000);
        Assert.InRange(sizes.Sum(), 1, 5_000_000);
    }

    [Fact]
    public void The_truth_holds_the_energies_of_the_exact_flows_and_a_plausible_ratio()
    {
        using JsonDocument truth = JsonDocument.Parse(TruthText.Write(Study.Value));
        JsonElement methods = truth.RootElement.GetProperty("methods");
        double cableWh = methods[0].GetProperty("energyPerChargeWh").GetProperty("wall").GetDouble();
        double padWh = methods[1].GetProperty("energyPerChargeWh").GetProperty("wall").GetDouble();
        double ratio = truth.RootElement.GetProperty("comparisons")[0].GetProperty("overheadRatio").GetProperty("wall").GetDouble();
        Assert.InRange(cableWh, 19, 20);
        Assert.InRange(padWh, 28.5, 31);
        Assert.Equal(padWh / cableWh, ratio, 1e-6);
        double waitingW = truth.RootElement.GetProperty("standby")[1].GetProperty("noLoadW").GetProperty("wall").GetDouble();
        Assert.InRange(waitingW, 0.2, 0.35);
    }

    [Fact]
    public void The_study_has_one_gap_and_one_clock_offset_and_three_runs_a_method()
    {
        var logs = Study.Value.Runs.SelectMany(r => r.Logs).ToList();
        Assert.Equal(1, logs.Count(l => l.Mishap is { GapLengthS: > 60 } && l.RowsLost > 60));
        Assert.Equal(1, logs.Count(l => l.ClockAheadS > 5));
        Assert.All(Study.Value.Runs.GroupBy(r => r.Plan.Method.Name), g => Assert.Equal(3, g.Count()));
        Assert.All(Study.Value.Runs, r => Assert.True(r.Trace.DurationOfS(ChargeAudit.Measuring.Segmentation.Mode.Maintenance) >= 1200));
    }

    private static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "ChargeAudit.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return folder ?? throw new InvalidOperationException("The tests do not run inside the repository.");
    }
}
