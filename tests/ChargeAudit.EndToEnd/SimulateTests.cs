using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>An invented study written to a folder, and audited as if a user had made it.</summary>
public sealed class SimulateTests : IDisposable
{
    private static readonly string Tablet = Path.Combine(Repository.Root, "docs", "scenarios", "10-tablet.toml");

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_tablets_logs_bring_back_its_true_overhead()
    {
        var made = Run.In(_folder.Path, "simulate", Tablet, "--out", "tablet");
        Assert.Equal((0, ""), (made.Status, made.Error));
        Assert.DoesNotContain("replaced", made.Output, StringComparison.Ordinal);
        var audit = Run.In(_folder.Path, "audit", Path.Combine("tablet", "study.toml"), "--format", "json");
        Assert.Equal((0, ""), (audit.Status, audit.Error));
        var truth =
            JsonDocument.Parse(File.ReadAllText(Path.Combine(_folder.Path, "tablet", "truth.json"))).RootElement.GetProperty("comparisons")[
            0].GetProperty("overheadRatio");
        foreach (var comparison in audit.Json.GetProperty("comparisons").EnumerateArray())
        {
            double real = truth.GetProperty(comparison.GetProperty("point").GetString()!).GetDouble();
            var ratio = comparison.GetProperty("overheadRatio");
            Assert.Equal(real, ratio.GetProperty("value").GetDouble(), 0.02 * real);

            // One honest interval in twenty misses; one and a half times it misses about once in three hundred.
            double slack = 0.25 * (ratio.GetProperty("high").GetDouble() - ratio.GetProperty("low").GetDouble());
            Assert.InRange(real, ratio.GetProperty("low").GetDouble() - slack, ratio.GetProperty("high").GetDouble() + slack);
        }
    }

    [Fact]
    public void A_seed_gives_the_same_files_and_another_seed_others()
    {
        string Made(string folder, string seed)
        {
            var run = Run.In(_folder.Path, "simulate", "--out", folder, "--seed", seed, "--format", "json");
            Assert.Equal((0, ""), (run.Status, run.Error));
            Assert.Equal(seed, run.Json.GetProperty("seed").GetRawText());
            ResultsSchema.Holds(run.Json);
            Assert.Equal(
                run.Json.GetProperty("files").EnumerateArray().Select(f => f.GetString()!).Order(StringComparer.Ordinal),
                Directory.GetFiles(Path.Combine(_folder.Path, folder)).Select(f => Path.GetFileName(f)!)
                    .Where(f => f != "chargeaudit-files.json").Order(StringComparer.Ordinal));
            return File.ReadAllText(Path.Combine(_folder.Path, folder, "pad-1-usb.csv"));
        }

        Assert.Equal(Made("a", "7"), Made("b", "7"));
        Assert.NotEqual(Made("a2", "7"), Made("c", "8"));
    }

    [Fact]
    public void Only_files_of_the_studys_own_names_are_replaced_and_that_is_said()
    {
        string own = _folder.File(Path.Combine("out", "notes.txt"), "mine");
        _folder.File(Path.Combine("out", "study.toml"), "title = \"an older one\"\n");
        OneSentence(Run.In(_folder.Path, "simulate", "--out", "out"), 73, "--overwrite");
        Assert.Contains("an older one", File.ReadAllText(Path.Combine(_folder.Path, "out", "study.toml")), StringComparison.Ordinal);
        var run = Run.In(_folder.Path, "simulate", "--out", "out", "--overwrite");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Contains("replaced: study.toml.", run.Output, StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(own));
        Assert.DoesNotContain("an older one", File.ReadAllText(Path.Combine(_folder.Path, "out", "study.toml")), StringComparison.Ordinal);
        var again = Run.In(_folder.Path, "simulate", "--out", "out", "--format", "json").Json;
        Assert.Equal(again.GetProperty("files").GetRawText(), again.GetProperty("replaced").GetRawText());
        Assert.Empty(Directory.GetFiles(Path.Combine(_folder.Path, "out"), "*.part"));
    }

    [Fact]
    public void A_folder_that_cannot_be_written_is_73()
    {
        _folder.File("blocked", "a file where a folder should be");
        OneSentence(Run.In(_folder.Path, "simulate", "--out", "blocked"), 73, "blocked");
    }

    [Fact]
    public void A_scenario_with_a_mistake_is_65_with_its_place()
    {
        List<string> lines = [.. File.ReadAllLines(Tablet)];
        int line = lines.FindIndex(l => l.StartsWith("start-charge", StringComparison.Ordinal));
        lines.Insert(line, "start-chrage = 5");
        string scenario = _folder.File("bad.toml", string.Join('\n', lines));
        OneSentence(Run.In(_folder.Path, "simulate", scenario, "--out", "x"), 65, InvariantText.Of($"line {line + 1}"));
        Assert.False(Directory.Exists(Path.Combine(_folder.Path, "x")));
    }

    [Fact]
    public void A_missing_scenario_is_66_and_a_seed_that_is_no_number_64()
    {
        OneSentence(Run.In(_folder.Path, "simulate", "no-such.toml"), 66, "no-such.toml");
        OneSentence(Run.In(_folder.Path, "simulate", "--seed", "-1"), 64, "--seed");
    }

    private static void OneSentence(Run run, int status, string mentions)
    {
        Assert.Equal((status, ""), (run.Status, run.Output));
        Assert.StartsWith("chargeaudit: ", run.Error, StringComparison.Ordinal);
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
    }
}
