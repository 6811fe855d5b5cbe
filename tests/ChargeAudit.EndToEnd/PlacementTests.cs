using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>Simulated pads, one device put down place by place, audited like anybody's logs and held against the truth.</summary>
public sealed class PlacementTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_documented_study_finds_the_true_map_and_the_true_tolerance()
    {
        string scenario = Path.Combine(Repository.Root, "docs", "placement-scenario.toml");
        Assert.Equal(0, Run.In(_folder.Path, "simulate", scenario, "--out", "study").Status);
        var audit = Run.In(_folder.Path, "audit", "study/study.toml", "--out", "report", "--rise", "3%");
        Assert.Equal((0, ""), (audit.Status, audit.Error));
        Assert.Contains("Where the device lies", audit.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(In("report/placement.csv")));
        foreach (string chart in new[] { "placement-map", "response-offset-x", "response-offset-y", "response-gap" })
        {
            Assert.True(File.Exists(In($"report/charts/{chart}.png")) && File.Exists(In($"report/charts/{chart}.svg")), chart);
        }

        var results = JsonDocument.Parse(File.ReadAllText(In("report/results.json"))).RootElement;
        ResultsSchema.Holds(results);
        var truth = JsonDocument.Parse(File.ReadAllText(In("study/truth.json"))).RootElement.GetProperty("runs").EnumerateArray()
            .ToDictionary(r => r.GetProperty("id").GetString()!, r => Energy(r, "device") / Energy(r, "usb"));
        int positions = 0, held = 0;
        foreach (var method in results.GetProperty("placement").GetProperty("methods").EnumerateArray())
        {
            foreach (var position in method.GetProperty("positions").EnumerateArray())
            {
                double trueMean = position.GetProperty("runs").EnumerateArray().Average(r => truth[r.GetString()!]);
                var value = position.GetProperty("value");
                positions++;
                held += value.GetProperty("low").GetDouble() <= trueMean && trueMean <= value.GetProperty("high").GetDouble() ? 1 : 0;
            }
        }

        // One gain error of the meters moves all positions of a pad alike. Of 26 intervals of 95 % one or two may miss.
        Assert.Equal(26, positions);
        Assert.InRange(held, 24, 26);
        foreach (var method in results.GetProperty("placement").GetProperty("methods").EnumerateArray())
        {
            string name = method.GetProperty("method").GetString()!;
            double trueOffset = TrueTolerance(scenario, name, 0.03);
            var found = method.GetProperty("tolerance");
            Assert.InRange(trueOffset, found.GetProperty("lowMm").GetDouble(), found.GetProperty("highMm").GetDouble());
            Assert.Equal(trueOffset, found.GetProperty("offsetMm").GetDouble(), 0.5);
        }
    }

    [Fact]
    public void A_study_without_factors_says_nothing_of_placement_and_a_wrong_rise_is_refused()
    {
        string study = _folder.SampleLogs();
        var audit = Run.In(_folder.Path, "audit", study, "--out", "report");
        Assert.Equal(0, audit.Status);
        Assert.DoesNotContain("Where the device lies", audit.Output, StringComparison.Ordinal);
        Assert.False(File.Exists(In("report/placement.csv")));
        Assert.DoesNotContain("\"placement\"", File.ReadAllText(In("report/results.json")), StringComparison.Ordinal);
        var wrong = Run.In(_folder.Path, "audit", study, "--rise", "five");
        Assert.Equal((64, ""), (wrong.Status, wrong.Output));
        Assert.Contains("--rise", wrong.Error, StringComparison.Ordinal);
    }

    // The truth without any fit: the same pad, all spreads taken out, step by step along x, straight lines between the steps.
    private double TrueTolerance(string scenario, string method, double rise)
    {
        string text = File.ReadAllText(scenario);
        string head = string.Join('\n', text[..text.IndexOf("[[runs]]", StringComparison.Ordinal)].Split('\n')
            .Where(l => !l.StartsWith("background-spread", StringComparison.Ordinal)));
        string places = string.Join(", ", Enumerable.Range(0, 19).Select(i => InvariantText.Of($"[{0.5 * i}, 0]")));
        _folder.File($"{method}.toml",
            $"{head.Replace("[device]", "[device]\nbackground-spread = \"0 %\"", StringComparison.Ordinal)}\n[[runs]]\nmethod = "
            + $"\"{method}\"\nstart-charge = 60\npositions-mm = [{places}]\nno-load-before = \"2 min\"\nmaintenance = \"6 min\"\n");
        Assert.Equal(0, Run.In(_folder.Path, "simulate", $"{method}.toml", "--out", $"{method}-truth").Status);
        var taken = JsonDocument.Parse(File.ReadAllText(In($"{method}-truth/truth.json"))).RootElement.GetProperty("runs").EnumerateArray()
            .Select(r => (Offset: r.GetProperty("offsetMm").GetDouble(), Taken: Energy(r, "usb") / Energy(r, "device")))
                .OrderBy(r => r.Offset).ToList();
        double wanted = (1 + rise) * taken[0].Taken;
        int above = taken.FindIndex(t => t.Taken >= wanted);
        var (a, b) = (taken[above - 1], taken[above]);
        return a.Offset + ((b.Offset - a.Offset) * (wanted - a.Taken) / (b.Taken - a.Taken));
    }

    private static double Energy(JsonElement run, string point) => run.GetProperty("energyWh").GetProperty(point).GetDouble();

    private string In(string path) => Path.Combine(_folder.Path, path);
}
