using System.Globalization;
using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>The main job on the sample study, whose true energies are known because a generator wrote its logs.</summary>
public sealed class SampleStudyTests : IDisposable
{
    private static readonly string[] Methods = ["cable", "pad"];
    private static readonly string[] Points = ["wall", "usb"];

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    // The truth lies outside an honest 95 % interval one time in twenty; one and a half times the interval is missed about once in three
    // hundred.
    [Fact]
    public void The_results_hold_the_true_energies()
    {
        var results = Audit(_folder.SampleLogs());
        var truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.SampleLogs, "truth.json"))).RootElement;
        foreach (string method in Methods)
        {
            var found = Named(results.GetProperty("methods"), method);
            var real = Named(truth.GetProperty("methods"), method);
            foreach (string point in Points)
            {
                var figures = found.GetProperty("points").GetProperty(point);
                Holds(figures.GetProperty("energyPerCharge"), real.GetProperty("energyPerChargeWh").GetProperty(point).GetDouble(), 0.01);
                Holds(figures.GetProperty("maintenancePower"), real.GetProperty("maintenanceW").GetProperty(point).GetDouble(), 0.10);
            }

            Holds(found.GetProperty("points").GetProperty("wall").GetProperty("noLoadPower"), real.GetProperty("noLoadW")
                .GetProperty("wall").GetDouble(), 0.05);
        }

        var ratios = truth.GetProperty("comparisons")[0].GetProperty("overheadRatio");
        foreach (var comparison in results.GetProperty("comparisons").EnumerateArray())
        {
            Holds(comparison.GetProperty("overheadRatio"), ratios.GetProperty(comparison.GetProperty("point").GetString()!).GetDouble(),
                0.01);
        }
    }

    [Fact]
    public void The_gap_is_found_where_it_is()
    {
        var faults = Audit(_folder.SampleLogs()).GetProperty("faults").EnumerateArray().ToList();
        var gap = Assert.Single(faults, f => f.GetProperty("kind").GetString() == "gap");
        Assert.Equal("pad-2-usb.csv", gap.GetProperty("file").GetString());
        string[] lines = File.ReadAllLines(Path.Combine(Repository.SampleLogs, "pad-2-usb.csv"));
        int line = gap.GetProperty("line").GetInt32();
        Assert.True(Seconds(lines[line - 1]) - Seconds(lines[line - 2]) > 60);

        static double Seconds(string row) => DateTimeOffset.Parse(row.Split(',')[0], CultureInfo.InvariantCulture).ToUnixTimeSeconds();
    }

    [Fact]
    public void Without_the_file_of_true_energies_the_results_are_the_same()
    {
        string study = _folder.SampleLogs();
        string with = Comparable(Audit(study));
        File.Delete(Path.Combine(_folder.Path, "truth.json"));
        File.Delete(Path.Combine(_folder.Path, "scenario.toml"));
        Assert.Equal(with, Comparable(Audit(study)));
    }

    [Fact]
    public void When_the_pads_logs_change_every_one_of_its_figures_moves()
    {
        string study = _folder.SampleLogs();
        var before = Audit(study);
        foreach (string log in Directory.GetFiles(_folder.Path, "pad-*.csv"))
        {
            Scale(log, 1.1);
        }

        var after = Audit(study);
        foreach (string point in Points)
        {
            foreach (string figure in (string[])["energyPerCharge", "maintenancePower", "noLoadPower"])
            {
                Moved(before, after, 0.03, r => Named(r.GetProperty("methods"), "pad").GetProperty("points").GetProperty(point)
                    .GetProperty(figure));
            }
        }

        Moved(before, after, 0.01, r => Named(r.GetProperty("methods"), "pad").GetProperty("yearly").GetProperty("energy"));
        Moved(before, after, 0.01, r => Named(r.GetProperty("methods"), "pad").GetProperty("yearly").GetProperty("cost"));
        Moved(before, after, 0.01, r => r.GetProperty("comparisons")[0].GetProperty("overheadRatio"));
        Moved(before, after, 0.01, r => r.GetProperty("comparisons")[1].GetProperty("overheadRatio"));

        static void Moved(JsonElement before, JsonElement after, double tolerance, Func<JsonElement, JsonElement> figure)
        {
            double ratio = figure(after).GetProperty("value").GetDouble() / figure(before).GetProperty("value").GetDouble();
            Assert.InRange(ratio, 1.1 - tolerance, 1.1 + tolerance);
        }
    }

    [Fact]
    public void Without_a_study_the_same_logs_give_the_same_energies()
    {
        string study = _folder.SampleLogs();
        var whole = Audit(study);
        var run = Run.In(
            _folder.Path,
            "audit", "--wired", "cable-1-wall.csv", "cable-2-wall.csv", "cable-3-wall.csv", "--inductive", "pad-1-wall.csv",
                "pad-2-wall.csv", "pad-3-wall.csv",
            "--point", "wall", "--price", "0.30", "--currency", "EUR", "--format", "json", "--out", "adhoc");
        Assert.Equal(0, run.Status);
        Assert.True(File.Exists(Path.Combine(_folder.Path, "adhoc", "report.html")));
        Assert.NotEmpty(run.Json.GetProperty("assumptions").EnumerateArray());
        double expected = Ratio(whole);
        Assert.Equal(expected, Ratio(run.Json), 0.01 * expected);
        Assert.Equal(JsonValueKind.Null, run.Json.GetProperty("comparisons")[0].GetProperty("overheadRatio").GetProperty("u").ValueKind);

        static double Ratio(JsonElement results) => results.GetProperty("comparisons").EnumerateArray()
            .First(c => c.GetProperty("point").GetString() == "wall").GetProperty("overheadRatio").GetProperty("value").GetDouble();
    }

    [Fact]
    public void The_report_folder_holds_what_the_summary_names()
    {
        var run = Run.In(_folder.Path, "audit", _folder.SampleLogs(), "--out", "report");
        Assert.Equal((0, ""), (run.Status, run.Error));
        foreach (string file in (string[])["report.html", "results.json", "sessions.csv", "report.md"])
        {
            Assert.Contains(file, run.Output, StringComparison.Ordinal);
            Assert.True(new FileInfo(Path.Combine(_folder.Path, "report", file)).Length > 500, file);
        }

        Assert.Contains("more energy at the wall than charging by cable", run.Output, StringComparison.Ordinal);
        Assert.Contains("What to doubt", run.Output, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(Path.Combine(_folder.Path, "report"), "*.tmp", SearchOption.AllDirectories));
    }

    [Fact]
    public void The_readme_shows_what_the_terminal_says()
    {
        const string Fence = "```text\n";
        string readme = File.ReadAllText(Path.Combine(Repository.Root, "README.md"));
        int from = readme.IndexOf(Fence, StringComparison.Ordinal) + Fence.Length;
        string shown = readme[from..readme.IndexOf("…\n```", from, StringComparison.Ordinal)];
        var lines = Run.In(_folder.Path, "audit", _folder.SampleLogs()).Output.Split('\n').Select(l => l.TrimEnd());
        Assert.StartsWith(shown, string.Join('\n', lines), StringComparison.Ordinal);
        Assert.Contains("more than cable", shown, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(40)]
    [InlineData(60)]
    [InlineData(200)]
    public void The_summary_fits_the_terminal(int columns)
    {
        var run = Run.Wide(columns, _folder.Path, "audit", _folder.SampleLogs());
        Assert.Equal(0, run.Status);
        Assert.All(run.Output.Split('\n'), line => Assert.True(line.Length <= columns, $"{line.Length}: {line}"));
    }

    private JsonElement Audit(string study)
    {
        var run = Run.In(_folder.Path, "audit", study, "--format", "json");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Equal(run.Output, File.ReadAllText(Path.Combine(_folder.Path, "chargeaudit-report", "results.json")));
        return run.Json;
    }

    private static JsonElement Named(JsonElement list, string name) =>
        list.EnumerateArray().First(e => e.GetProperty("name").GetString() == name);

    private static void Holds(JsonElement figure, double truth, double mostRelativeError)
    {
        double value = figure.GetProperty("value").GetDouble();
        double half = 0.5 * (figure.GetProperty("high").GetDouble() - figure.GetProperty("low").GetDouble());
        Assert.True(Math.Abs(value - truth) <= 1.5 * half, $"{value} ± {half} does not hold {truth}");
        Assert.True(Math.Abs(value - truth) <= mostRelativeError * truth, $"{value} is more than {mostRelativeError:P0} from {truth}");
    }

    private static string Comparable(JsonElement results) => string.Join(
        "\n", results.EnumerateObject().Where(p => p.Name != "provenance").Select(p => $"{p.Name}: {p.Value.GetRawText()}"));

    /// <summary>Multiplies the power column of a wall log, or the current column of a usb log, as text.</summary>
    private static void Scale(string log, double factor)
    {
        string[] lines = File.ReadAllLines(log);
        bool wall = lines[0].Contains(';', StringComparison.Ordinal);
        char separator = wall ? ';' : ',';
        string[] header = lines[0].Split(separator);
        int[] columns = [.. Enumerable.Range(0, header.Length).Where(i => header[i] is "P [W]" or "E [Wh]" or "Current (A)")];
        for (int i = 1; i < lines.Length; i++)
        {
            string[] fields = lines[i].Split(separator);
            foreach (int column in columns)
            {
                double value = double.Parse(fields[column].Replace(',', '.'), CultureInfo.InvariantCulture) * factor;
                string text = value.ToString("F5", CultureInfo.InvariantCulture);
                fields[column] = wall ? text.Replace('.', ',') : text;
            }

            lines[i] = string.Join(separator, fields);
        }

        File.WriteAllLines(log, lines);
    }
}
