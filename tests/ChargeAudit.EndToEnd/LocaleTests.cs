using System.Text;
using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd;

/// <summary><c>--locale</c>: what people read follows it, what programs read does not, and names stay names.</summary>
public sealed partial class LocaleTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Report_Markdown_and_charts_follow_it_and_files_for_programs_do_not()
    {
        string study = _folder.SampleLogs();
        File.WriteAllText(study, File.ReadAllText(study)
            .Replace("[methods.pad]", "[methods.\"pad 7.5 W\"]", StringComparison.Ordinal)
            .Replace("method = \"pad\"", "method = \"pad 7.5 W\"", StringComparison.Ordinal));
        Assert.Equal(0, Run.In(_folder.Path, "audit", study, "--out", "usual", "--quiet").Status);
        Assert.Equal(0, Run.In(_folder.Path, "audit", study, "--out", "german", "--quiet", "--locale", "de").Status);

        string Text(string folder, string file) => File.ReadAllText(Path.Combine(_folder.Path, folder, file));
        Assert.Equal(Text("usual", "sessions.csv"), Text("german", "sessions.csv"));
        Assert.Equal(WithoutProvenance(Text("usual", "results.json")), WithoutProvenance(Text("german", "results.json")));

        // Word by word the same but for the marks in numbers and the order in dates.
        string[] usual = Text("usual", "report.md").Split('\n'), german = Text("german", "report.md").Split('\n');
        Assert.Equal(usual.Length, german.Length);
        string answer = german.First(l => l.StartsWith("**Charging", StringComparison.Ordinal));
        Assert.Matches(@"^\*\*Charging on pad 7\.5 W uses \d+,\d % more energy .* interval \d+,\d to \d+,\d %\)", answer);
        Assert.Equal(Text("usual", "report.md").Split("pad 7.5 W").Length, Text("german", "report.md").Split("pad 7.5 W").Length);
        Assert.DoesNotContain(german, l => PointBeforeUnit().IsMatch(l.Replace("7.5 W", "", StringComparison.Ordinal)));
        Assert.Contains(usual, l => PointBeforeUnit().IsMatch(l.Replace("7.5 W", "", StringComparison.Ordinal)));
        Assert.Contains("data-decimal-mark=\",\"", Text("german", "report.html"), StringComparison.Ordinal);
        Assert.Contains(">2,5<", Text("german", "charts/power-wall.svg"), StringComparison.Ordinal);
        Assert.Contains(">2.5<", Text("usual", "charts/power-wall.svg"), StringComparison.Ordinal);
        AssertNoMarks("german");
    }

    [Fact]
    public void Every_command_takes_it_and_leaves_no_mark_behind()
    {
        foreach (var (command, arguments) in EveryCommand.In(_folder))
        {
            var run = Run.In(_folder.Path, [.. arguments, "--locale", "fr"]);
            Assert.True(run.Status is 0 or 2, $"{command}: {run.Error}");
            Assert.DoesNotMatch("[\uFDD0-\uFDEF]", run.Output + run.Error);
        }

        AssertNoMarks(".");
    }

    [Fact]
    public void The_terminal_follows_it_and_JSON_does_not()
    {
        string log = _folder.File("pad 7.5 W 2026-03-04.csv", Log());
        string text = Run.In(_folder.Path, "measure", log, "--locale", "de_AT.UTF-8").Output;
        Assert.Contains("pad 7.5 W 2026-03-04.csv", text, StringComparison.Ordinal);
        Assert.Contains("04.03.2026 10:00:00", text, StringComparison.Ordinal);
        Assert.Matches(@"\d,\d+ Wh", text);
        Assert.DoesNotMatch(@"\d\.\d+ Wh", text);
        Assert.Equal(
            Run.In(_folder.Path, "measure", log, "--format", "json").Output,
            Run.In(_folder.Path, "measure", log, "--format", "json", "--locale", "de").Output);
    }

    [Fact]
    public void A_summary_of_a_log_is_the_same_with_it()
    {
        string log = Path.Combine(Repository.SampleLogs, "pad-1-usb.csv");
        string Measured(string folder, params string[] more)
        {
            Assert.Equal(0, Run.In(_folder.Path, ["summarize", log, "--out", folder, "--quiet", .. more]).Status);
            string summary = Directory.GetFiles(Path.Combine(_folder.Path, folder), "*pad-1-usb*").Single();
            string json = Run.In(_folder.Path, "measure", summary, "--format", "json").Output;
            Assert.Contains("\"energy\"", json, StringComparison.Ordinal);
            return json.Replace($"{folder}{Path.DirectorySeparatorChar}", "", StringComparison.Ordinal);
        }

        Assert.Equal(Measured("usual"), Measured("german", "--locale", "de"));
    }

    [Fact]
    public void An_unknown_tag_is_refused_with_those_that_are_known()
    {
        var run = Run.In(_folder.Path, "audit", _folder.SampleLogs(), "--locale", "tlh");
        Assert.Equal(64, run.Status);
        Assert.Contains("--locale is \"tlh\"; one of bg, cs, ", run.Error, StringComparison.Ordinal);
    }

    // Constant power of 5.2 W for an hour, a reading every ten seconds.
    private static string Log()
    {
        var text = new StringBuilder("time,power [W]\n");
        for (int i = 0; i <= 360; i++)
        {
            text.Append(new DateTime(2026, 3, 4, 10, 0, 0).AddSeconds(10 * i).ToString("yyyy-MM-dd HH:mm:ss",
                System.Globalization.CultureInfo.InvariantCulture)).Append(",5.2").Append(i % 10).Append('\n');
        }

        return text.ToString();
    }

    private void AssertNoMarks(string folder)
    {
        foreach (string file in Directory.EnumerateFiles(Path.Combine(_folder.Path, folder), "*", SearchOption.AllDirectories)
            .Where(f => Path.GetExtension(f) is ".md" or ".html" or ".svg" or ".json" or ".csv" or ".toml" or ".xml" or ".jsonl"))
        {
            string text = File.ReadAllText(file);
            Assert.DoesNotMatch("[\uFDD0-\uFDEF]", text);
            Assert.False(text.Contains("\\ufdd", StringComparison.OrdinalIgnoreCase), file);
            Assert.False(text.Contains("&#xFDD", StringComparison.OrdinalIgnoreCase), file);
        }
    }

    // When it was made and by which command is the one thing in which two runs differ.
    private static string WithoutProvenance(string json) => Provenance().Replace(json, "");

    [GeneratedRegex("\"(created|commandLine)\": \"(?:[^\"\\\\]|\\\\.)*\"")]
    private static partial Regex Provenance();

    [GeneratedRegex(@"\d\.\d+ (Wh|kWh|W|%|EUR)\b")]
    private static partial Regex PointBeforeUnit();
}
