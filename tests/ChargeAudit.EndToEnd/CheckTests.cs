using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;

namespace ChargeAudit.EndToEnd;

/// <summary>A build that goes green and red: audits, a baseline kept from one of them, and candidates against it.</summary>
public sealed class CheckTests : IDisposable
{
    private const int Runs = 4;

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_pipeline_goes_green_and_red_and_says_when_it_cannot_tell()
    {
        string baseline = Baseline();
        var good = Check("good", 1.0, baseline, "--format", "json");
        Assert.Equal((0, "pass"), (good.Status, good.Json.GetProperty("verdict").GetString()));
        var bad = Check("bad", 1.08, baseline, "--format", "json");
        Assert.Equal((1, "fail"), (bad.Status, bad.Json.GetProperty("verdict").GetString()));
        Assert.InRange(bad.Json.GetProperty("ratio").GetProperty("value").GetDouble(), 1.06, 1.10);
        Assert.Equal(0.03, bad.Json.GetProperty("margin").GetDouble());
        Assert.Contains("beyond the margin", bad.Json.GetProperty("reasons")[0].GetString(), StringComparison.Ordinal);
        var unsure = Check("unsure", 1.03, baseline, "--format", "json");
        Assert.Equal((2, "inconclusive"), (unsure.Status, unsure.Json.GetProperty("verdict").GetString()));
        var settling = unsure.Json.GetProperty("figures").EnumerateArray().First(f => f.TryGetProperty("settling", out _))
            .GetProperty("settling");
        Assert.NotEmpty(settling.GetProperty("sentence").GetString()!);
        Assert.Equal("", good.Error + bad.Error + unsure.Error);
    }

    [Fact]
    public void The_documents_for_a_build_server_are_written()
    {
        string baseline = Baseline();
        var run = Check("bad", 1.08, baseline, "--junit", "out/check.xml", "--markdown", "out/check.md", "--out", "report");
        Assert.Equal(1, run.Status);
        Assert.StartsWith("Check: fail", run.Output, StringComparison.Ordinal);
        var suite = XDocument.Load(In("out/check.xml")).Root!.Element("testsuite")!;
        Assert.True((int)suite.Attribute("failures")! >= 2);
        Assert.Equal((int)suite.Attribute("tests")!, suite.Elements("testcase").Count());
        Assert.StartsWith("# Regression check: fail\n", File.ReadAllText(In("out/check.md")), StringComparison.Ordinal);
        Assert.Equal("fail", JsonDocument.Parse(File.ReadAllText(In("report/check.json"))).RootElement.GetProperty("verdict").GetString());
        Assert.True(File.Exists(In("report/results.json")));
        Assert.Empty(Directory.GetFiles(_folder.Path, "*.part", SearchOption.AllDirectories));
    }

    [Fact]
    public void A_check_from_summaries_says_the_same_without_the_logs()
    {
        string baseline = Baseline();
        string[] options = ["--summaries", "summaries", "--format", "json"];
        var ofLogs = Check("good", 1.0, baseline, "--format", "json");
        var adding = Run.In(_folder.Path, ["check", "good/study.toml", "--baseline", baseline, .. options]);
        Assert.Equal(2 * Runs, Directory.GetFiles(In("summaries")).Length);
        foreach (string log in Directory.GetFiles(In("good"), "*.csv"))
        {
            File.Delete(log);
        }

        var fromSummaries = Run.In(_folder.Path, ["check", "good/study.toml", "--baseline", baseline, .. options]);
        Assert.Equal((0, ofLogs.Output, ""), (adding.Status, adding.Output, adding.Error));
        Assert.Equal((0, ofLogs.Output, ""), (fromSummaries.Status, fromSummaries.Output, fromSummaries.Error));
    }

    [Fact]
    public void A_study_summarized_in_parts_is_audited_without_its_logs_and_the_report_says_so()
    {
        Study("parts", 1.0, 5);
        Assert.Equal(0, Run.In(_folder.Path, "audit", "parts/study.toml", "--out", "of-logs", "--quiet").Status);
        foreach (string part in (string[])["2/2", "1/2"])
        {
            Assert.Equal(0, Run.In(_folder.Path, "summarize", "--study", "parts/study.toml", "--part", part, "--out", "summaries").Status);
        }

        foreach (string log in Directory.GetFiles(In("parts"), "*.csv"))
        {
            File.Delete(log);
        }

        var joined = Run.In(_folder.Path, "summarize", "--study", "parts/study.toml", "--join", "--out", "summaries");
        Assert.Equal((0, "8 summarized, 0 already there, in summaries.\n"), (joined.Status, joined.Output));
        Assert.Equal(0, Run.In(_folder.Path, "audit", "parts/study.toml", "--summaries", "summaries", "--out", "of-parts", "--quiet")
            .Status);
        static string Figures(string file) =>
            JsonDocument.Parse(File.ReadAllText(file)).RootElement.GetProperty("comparisons").GetRawText();
        Assert.Equal(Figures(In("of-logs/results.json")), Figures(In("of-parts/results.json")));
        Assert.Contains("log, by its summary of", File.ReadAllText(In("of-parts/report.html")), StringComparison.Ordinal);
        Assert.DoesNotContain("by its summary of", File.ReadAllText(In("of-logs/report.html")), StringComparison.Ordinal);
        File.Delete(Directory.GetFiles(In("summaries"), "*.part-1-of-2.*")[0]);
        Directory.GetFiles(In("summaries")).Where(f => !f.Contains(".part-", StringComparison.Ordinal)).ToList().ForEach(File.Delete);
        var missing = Run.In(_folder.Path, "summarize", "--study", "parts/study.toml", "--join", "--out", "summaries");
        Assert.NotEqual(0, missing.Status);
        Assert.Contains("no summary of part 1;", missing.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Small_losses_that_each_pass_add_up_to_a_drift_that_fails()
    {
        string baseline = Baseline();
        var statuses = new List<int>();
        Run? last = null;
        for (int i = 1; i <= 6; i++)
        {
            double scale = 1 + (0.009 * i);
            last = Check($"step-{i}", scale, baseline, "--history", "history.jsonl", "--format", "json");
            statuses.Add(last.Status);
            Assert.Equal(0, Run.In(_folder.Path, "audit", $"step-{i}/study.toml", "--out", $"base-{i}", "--quiet").Status);
            baseline = In($"base-{i}/results.json");
        }

        Assert.Equal([0, 0], statuses[..2]);
        Assert.Equal(1, last!.Status);
        Assert.Equal("pass", last.Json.GetProperty("figures").EnumerateArray()
            .Single(f => f.GetProperty("method").GetString() == "pad" && f.GetProperty("figure").GetString() == "energy-per-charge")
            .GetProperty("verdict").GetString());
        Assert.Contains("drifts upwards", last.Json.GetProperty("reasons")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal(6, File.ReadAllLines(In("history.jsonl")).Length);
    }

    [Fact]
    public void A_history_is_drawn_and_the_page_for_the_build_shows_it()
    {
        string baseline = Baseline();
        var first = Check("one", 1.0, baseline, "--history", "history.jsonl", "--trend", "trend", "--markdown", "pages/check.md");
        Assert.Equal((0, ""), (first.Status, first.Error));
        Assert.Contains("Trend charts: ", first.Output, StringComparison.Ordinal);
        string[] names = [.. Directory.GetFiles(In("trend")).Select(f => Path.GetFileName(f)!).Where(n => n != "chargeaudit-files.json")
            .Order(StringComparer.Ordinal)];
        Assert.Contains("trend-pad-usb-energy-per-charge.png", names);
        Assert.Contains("trend-cable-usb-charge-duration.svg", names);
        Assert.All(names, n => Assert.StartsWith("trend-", n, StringComparison.Ordinal));
        Assert.Contains("](../trend/trend-pad-usb-energy-per-charge.png)", File.ReadAllText(In("pages/check.md")),
            StringComparison.Ordinal);
        Assert.Contains("trend over 1 check<", File.ReadAllText(In("trend/trend-pad-usb-energy-per-charge.svg")), StringComparison.Ordinal);

        // A second one, red: it is drawn as a candidate that failed. With a report the charts stand in it.
        var second = Check("two", 1.08, baseline, "--history", "history.jsonl", "--out", "report", "--quiet");
        Assert.Equal((1, ""), (second.Status, second.Error));
        string drawn = File.ReadAllText(In("report/charts/trend-pad-usb-energy-per-charge.svg"));
        Assert.Contains("trend over 2 checks<", drawn, StringComparison.Ordinal);

        // Entries of another device have no place in the chart.
        string line = File.ReadAllLines(In("history.jsonl"))[0].Replace("\"device\":\"P\"", "\"device\":\"Q\"", StringComparison.Ordinal)
            .Replace("\"candidateSha256\":\"", "\"candidateSha256\":\"0", StringComparison.Ordinal);
        File.AppendAllText(In("history.jsonl"), line + "\n");
        Assert.Equal(0, Check("three", 1.0, baseline, "--history", "history.jsonl", "--trend", "trend", "--quiet").Status);
        Assert.Contains("trend over 3 checks<", File.ReadAllText(In("trend/trend-pad-usb-energy-per-charge.svg")),
            StringComparison.Ordinal);
        Refused(64, "--history", "check", "three/study.toml", "--baseline", baseline, "--trend", "trend");
    }

    [Fact]
    public void Designs_whose_runs_lay_elsewhere_are_not_compared()
    {
        string baseline = Baseline();
        Study("moved", 1.0, 21);
        string file = In("moved/study.toml");
        File.WriteAllText(file, File.ReadAllText(file)
            .Replace("end-charge = 100\n", "end-charge = 100\nfactors = { offset-x = \"4 mm\", offset-y = \"0 mm\" }\n",
            StringComparison.Ordinal));
        Refused(65, "offset x", "check", "moved/study.toml", "--baseline", baseline);
        Assert.Equal(0, Run.In(_folder.Path, "audit", "moved/study.toml", "--out", "moved-report", "--quiet").Status);
        Study("again", 1.0, 22);
        file = In("again/study.toml");
        File.WriteAllText(file, File.ReadAllText(file)
            .Replace("end-charge = 100\n", "end-charge = 100\nfactors = { offset-x = \"4 mm\", offset-y = \"0 mm\" }\n",
            StringComparison.Ordinal));
        Assert.Equal(0, Run.In(_folder.Path, "check", "again/study.toml", "--baseline", "moved-report/results.json", "--quiet").Status);
    }

    [Fact]
    public async Task Two_checks_at_once_share_a_history()
    {
        string baseline = Baseline();
        Study("one", 1.0, 11);
        Study("two", 1.0, 12);
        string[] names = ["one", "two"];
        var runs =
            await Task.WhenAll(
                names.Select(n =>
                Task.Run(() =>
                Run.In(_folder.Path, "check", $"{n}/study.toml", "--baseline", baseline, "--history", "history.jsonl", "--quiet"))));
        Assert.All(runs, r => Assert.Equal("", r.Error));
        string[] lines = File.ReadAllLines(In("history.jsonl"));
        Assert.Equal(["design one", "design two"],
            lines.Select(l => JsonDocument.Parse(l).RootElement.GetProperty("candidate").GetString()!).Order(StringComparer.Ordinal));

        // A crash in the middle of a line costs that line alone.
        File.AppendAllText(In("history.jsonl"), lines[0][..40]);
        var after = Check("three", 1.0, baseline, "--history", "history.jsonl", "--quiet");
        Assert.Contains("cut short", after.Error, StringComparison.Ordinal);
        Assert.Equal(3, File.ReadAllLines(In("history.jsonl")).Length);
        Assert.Equal(lines[0][..40] + "\n", File.ReadAllText(In("history.jsonl.torn")));
    }

    [Fact]
    public void What_cannot_be_compared_is_refused()
    {
        string baseline = Baseline();
        Study("other", 1.0, 5, device: "Q");
        Refused(65, "device", "check", "other/study.toml", "--baseline", baseline);
        Refused(65, "baseline's own", "check", "base/study.toml", "--baseline", baseline);
        Refused(65, "not JSON", "check", "other/study.toml", "--baseline", "other/study.toml");
        Refused(66, "no such file", "check", "other/study.toml", "--baseline", "none.json");
        Refused(64, "--margin", "check", "base/study.toml", "--baseline", baseline, "--margin", "two");
        Refused(64, "--alpha", "check", "base/study.toml", "--baseline", baseline, "--alpha", "0.7");
        Refused(64, "--baseline", "check", "base/study.toml");
    }

    [Fact]
    public void A_plan_takes_the_scatter_of_an_audit_and_the_check_it_planned_passes()
    {
        string baseline = Baseline();
        var plan = Run.In(_folder.Path, "plan", "--margin", "3%", "--from", baseline, "--method", "pad", "--format", "json");
        Assert.Equal((0, ""), (plan.Status, plan.Error));
        Assert.All(plan.Json.GetProperty("runs").EnumerateArray(), r => Assert.InRange(r.GetProperty("sameMeter").GetInt32(), 2, Runs));
        Assert.Equal(0, Check("good", 1.0, baseline, "--quiet").Status);
        var text = Run.In(_folder.Path, "plan", "--resolution", "2%", "--repeatability", "1%", "--accuracy", "0.5 % + 10 mW",
            "--charge-power", "8W", "--standby-power", "150mW");
        Assert.Equal(0, text.Status);
        Assert.Contains("To tell two methods apart that differ by 2 %", text.Output, StringComparison.Ordinal);
        Refused(64, "--margin", "plan");
        Refused(64, "--repeatability", "plan", "--margin", "2%");
        Refused(64, "--charge-power", "plan", "--margin", "2%", "--repeatability", "1%", "--charge-power", "8");
        Refused(65, "no method \"none\" with two runs; it has ", "plan", "--margin", "2%", "--from", baseline, "--method", "none");
    }

    private void Refused(int status, string mentions, params string[] arguments)
    {
        var run = Run.In(_folder.Path, arguments);
        Assert.Equal((status, ""), (run.Status, run.Output));
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
    }

    private string In(string path) => Path.Combine(_folder.Path, path);

    private string Baseline()
    {
        Study("base", 1.0, 1);
        Assert.Equal(0, Run.In(_folder.Path, "audit", "base/study.toml", "--out", "base-report", "--quiet").Status);
        return In("base-report/results.json");
    }

    private Run Check(string name, double scale, string baseline, params string[] options)
    {
        Study(name, scale, 2 + name.Sum(c => c));
        return Run.In(_folder.Path, ["check", $"{name}/study.toml", "--baseline", baseline, .. options]);
    }

    // Charges of 50 minutes that taper off, 0.3 % apart from run to run, by a meter that both designs share.
    private void Study(string name, double scale, int seed, string device = "P")
    {
        var random = new Random(seed);
        var study =
            new StringBuilder($"title = \"design {name}\"\nreference = \"cable\"\n[device]\nname = \"{device}\"\nbattery = \"12 Wh\"\n"
            + "[meters.bench]\npoint = \"usb\"\naccuracy = { power = \"0.5 % + 2 mW\" }\nsamples = \"average-ending\"\n"
            + "[methods.cable]\nkind = \"wired\"\n[methods.pad]\nkind = \"inductive\"\n"
            + "[check]\nmargin = \"3 %\"\npeak-margin = \"15 %\"\nfigures = [\"energy\", \"maintenance\", \"duration\", \"peak\"]\n");
        foreach (var (method, powerW) in new[] { ("cable", 8.0), ("pad", 10 * scale) })
        {
            for (int run = 1; run <= Runs; run++)
            {
                double own = 1 + (0.003 * Noise(random)), lengthS = 3000 * (1 + (0.003 * Noise(random)));
                var log = new StringBuilder("Elapsed (s),P (W)\n");
                for (int t = 0; t < 4800; t += 10)
                {
                    double level = t < 0.7 * lengthS ? powerW : t < lengthS
                        ? powerW * Math.Max(0.12, (lengthS - t) / (0.3 * lengthS))
                        : 0.15;
                    log.Append(CultureInfo.InvariantCulture, $"{t},{(level * own) + (0.003 * Noise(random)):F4}\n");
                }

                _folder.File($"{name}/{method}-{run}.csv", log.ToString());
                study.Append(CultureInfo.InvariantCulture,
                    $"[[runs]]\nmethod = \"{method}\"\nlogs = {{ usb = {{ file = \"{method}-{run}.csv\", meter = \"bench\" }} "
                    + $"}}\nstart-charge = 5\nend-charge = 100\n");
            }
        }

        _folder.File($"{name}/study.toml", study.ToString());
    }

    // Twelve uniform numbers make a normal one closely enough.
    private static double Noise(Random random) => Enumerable.Range(0, 12).Sum(_ => random.NextDouble()) - 6;
}
