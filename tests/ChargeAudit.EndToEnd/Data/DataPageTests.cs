using System.Globalization;
using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd.Data;

/// <summary>The code for other languages in docs/data.md runs on the tables of the sample study and prints what the page shows.</summary>
public sealed partial class DataPageTests : IDisposable
{
    private static readonly string Page =
        File.ReadAllText(Path.Combine(Repository.Root, "docs", "data.md")).ReplaceLineEndings("\n");

    private static readonly Lazy<string> Tables = new(Audited);

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_code_in_Python_prints_what_the_page_shows() => Prints("python", Needs.Pandas(), "code.py");

    [Fact]
    public void The_code_in_R_prints_what_the_page_shows() => Prints("r", Needs.Program("Rscript"), "code.R");

    [Fact]
    public void The_ratio_that_the_page_shows_holds_the_true_one()
    {
        var shown = Ratio().Matches(Page);
        Assert.Equal(2, shown.Count);
        double truth = System.Text.Json.JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.SampleLogs, "truth.json"))).RootElement
            .GetProperty("comparisons")[0].GetProperty("overheadRatio").GetProperty("wall").GetDouble();
        Assert.All(shown, m => Assert.InRange(truth, Number(m.Groups["low"].Value), Number(m.Groups["high"].Value)));
    }

    private void Prints(string language, string program, string file)
    {
        var code = Regex.Match(Page, $"```{language}\n(?<code>.*?)```\n\n```text\n(?<shown>.*?)```", RegexOptions.Singleline);
        Assert.True(code.Success, $"docs/data.md has no code in {language} with what it prints");
        string script = _folder.File(file, code.Groups["code"].Value);
        var run = Run.Process(Tables.Value, program, script);
        Assert.True(run.Status == 0, run.Error);
        Assert.Equal(Lines(code.Groups["shown"].Value), Lines(run.Output));
    }

    private static List<string> Lines(string text) => [.. text.TrimEnd().Split('\n').Select(l => l.TrimEnd())];

    private static string Audited()
    {
        var folder = new TemporaryFolder();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => folder.Dispose();
        var run = Run.In(folder.Path, "audit", Path.Combine(Repository.SampleLogs, "study.toml"), "--out", "report", "--tables", "csv",
            "--quiet");
        Assert.True(run.Status == 0, run.Error);
        return folder.Path;
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^pad uses [\d.]+ times the energy of cable \(95 % interval (?<low>[\d.]+) to (?<high>[\d.]+)\)$",
        RegexOptions.Multiline)]
    private static partial Regex Ratio();
}
