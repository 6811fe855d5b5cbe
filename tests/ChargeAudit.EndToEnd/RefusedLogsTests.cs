using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd;

/// <summary>docs/refused-logs.md shows logs and what the program says of them: it says just that.</summary>
public sealed partial class RefusedLogsTests
{
    private const int AtLeast = 20;

    [Fact]
    public void Every_log_of_the_page_is_refused_with_the_sentence_beside_it()
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "refused-logs.md"));
        var logs = Section().Matches(page).Select(m => m.Groups).ToList();
        using var folder = new TemporaryFolder();
        foreach (var log in logs)
        {
            folder.File(log["name"].Value, log["text"].Value);

            var run = Run.In(folder.Path, [.. Word().Matches(log["command"].Value).Select(w => w.Value.Trim('\''))]);

            Assert.Equal(65, run.Status);
            Assert.Equal(log["sentence"].Value, run.Error.Trim());
        }

        Assert.True(logs.Count >= AtLeast, $"the page shows {logs.Count} logs");
        Assert.Equal(page.Split("\n## ").Length - 1, logs.Count);
    }

    // The file's name, its text, the command and the sentence.
    [GeneratedRegex(
        @"\n`(?<name>[^`]+)`[^\n]*:\n\n```text\n(?<text>.*?)```\n\n"
        + @"```console\n\$ chargeaudit (?<command>[^\n]+)\n(?<sentence>[^\n]+)\n```\n",
        RegexOptions.Singleline)]
    private static partial Regex Section();

    [GeneratedRegex(@"'[^']*'|\S+")]
    private static partial Regex Word();
}
