using System.Text.Json;
using ChargeAudit.EndToEnd.Documented;

namespace ChargeAudit.EndToEnd;

/// <summary>The example of docs/check.md, as it stands there, and a price beside a study that has one.</summary>
public sealed class DocumentedCheckTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_three_commands_end_as_the_page_says()
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "check.md"));
        Assert.Contains("The first two end with 0, the third with 2", page, StringComparison.Ordinal);
        var commands = DocumentedExample.Of(page).Skip(2).Take(3).ToList();
        Assert.Equal(["audit", "simulate", "check"], commands.Select(c => c.Arguments![0]));
        Copy("sample-logs");
        Assert.Equal([0, 0, 2], commands.Select(Status));

        // The stand-by powers alone are open; with the figures that the page names it passes.
        string study = Path.Combine(_folder.Path, "candidate", "study.toml");
        File.AppendAllText(study, "\n[check]\nfigures = [\"energy\", \"overhead\"]\n");
        Assert.Equal(0, Status(commands[2]));
    }

    [Fact]
    public void A_price_on_the_command_line_takes_the_place_of_the_study_s_and_says_so()
    {
        Copy("sample-logs");
        double stated = Cost("stated"), given = Cost("given", "--price", "0.9");
        var text = Run.In(_folder.Path, "audit", "sample-logs/study.toml", "--price", "0.9", "--out", "text");
        Assert.Equal(0, text.Status);
        Assert.Contains("The price is --price 0.9, in place of whatever [tariff] in sample-logs/study.toml says.",
            text.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.True(given > 1.5 * stated, $"{given} and {stated}");
        Assert.Equal(Energy("given") * 0.9, given, 1e-9 * given);
    }

    private double Cost(string report, params string[] options)
    {
        Assert.Equal(0, Run.In(_folder.Path, ["audit", "sample-logs/study.toml", "--out", report, "--quiet", .. options]).Status);
        return Yearly(report).GetProperty("cost").GetProperty("value").GetDouble();
    }

    private double Energy(string report) => Yearly(report).GetProperty("energy").GetProperty("value").GetDouble();

    private JsonElement Yearly(string report) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(_folder.Path, report, "results.json"))).RootElement
        .GetProperty("methods").EnumerateArray().First(m => m.GetProperty("name").GetString() == "pad").GetProperty("yearly");

    private int Status(DocumentedExample command) => Run.In(_folder.Path, command.Arguments!).Status;

    private void Copy(string folder)
    {
        foreach (string file in Directory.GetFiles(Path.Combine(Repository.Root, folder)))
        {
            Directory.CreateDirectory(Path.Combine(_folder.Path, folder));
            File.Copy(file, Path.Combine(_folder.Path, folder, Path.GetFileName(file)));
        }
    }
}
