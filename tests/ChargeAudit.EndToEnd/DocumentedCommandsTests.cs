using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd;

/// <summary>What the README and the other documents tell people to type exists.</summary>
public sealed partial class DocumentedCommandsTests
{
    [Fact]
    public void The_readme_opens_with_two_commands_and_the_pipeline_runs_just_those()
    {
        string readme = File.ReadAllText(Path.Combine(Repository.Root, "README.md"));
        string[] lines = readme.Split('\n');
        string[] block = [.. lines.SkipWhile(l => l != "```sh").Skip(1).TakeWhile(l => l != "```")];
        Assert.Equal(["dotnet run --project src/ChargeAudit.Cli -- audit sample-logs/study.toml", "dotnet test"], block);
        string pipeline = File.ReadAllText(Path.Combine(Repository.Root, ".ci", "run"));
        Assert.Contains("readme_command 'dotnet test'", pipeline, StringComparison.Ordinal);
        Assert.Contains("readme_command 'dotnet run'", pipeline, StringComparison.Ordinal);
        Assert.True(lines.Length <= 92, $"the README has {lines.Length} lines");
    }

    [Fact]
    public void Every_command_and_option_in_the_documents_exists()
    {
        var files = Documents().Append(Path.Combine(Repository.Root, "README.md"));
        var help = new Dictionary<string, string>();
        int checkedCommands = 0;
        foreach (string file in files)
        {
            foreach (Match match in Command().Matches(File.ReadAllText(file)))
            {
                string command = match.Groups["command"].Value;
                if (!help.TryGetValue(command, out string? text))
                {
                    var run = Run.Of(command, "--help");
                    Assert.True(run.Status == 0, $"{file} names the command {command}");
                    help.Add(command, text = run.Output);
                }

                foreach (Match option in Option().Matches(match.Groups["rest"].Value))
                {
                    Assert.True(text.Contains(option.Value, StringComparison.Ordinal), $"{file}: {command} has no option {option.Value}");
                }

                checkedCommands++;
            }
        }

        Assert.True(checkedCommands >= 5);
    }

    [Fact]
    public void Every_file_that_the_documents_link_to_is_there()
    {
        var files = Documents().Append(Path.Combine(Repository.Root, "README.md")).Append(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        foreach (string file in files)
        {
            foreach (Match link in Link().Matches(File.ReadAllText(file)))
            {
                string target = link.Groups["target"].Value;
                if (!target.Contains("://", StringComparison.Ordinal))
                {
                    string path = Path.Combine(Path.GetDirectoryName(file)!, target);
                    Assert.True(File.Exists(path) || Directory.Exists(path), $"{file} links to {target}");
                }
            }
        }
    }

    // The notices hold texts by others, with links that mean something elsewhere.
    private static IEnumerable<string> Documents() =>
        Directory.GetFiles(Path.Combine(Repository.Root, "docs"), "*.md", SearchOption.AllDirectories)
        .Where(f => Path.GetFileName(f) != "THIRD-PARTY-NOTICES.md");

    [GeneratedRegex(@"(?:^|`)chargeaudit (?<command>[a-z]+)(?<rest>[^`\n]*)", RegexOptions.Multiline)]
    private static partial Regex Command();

    [GeneratedRegex(@"(?<![\w-])--[a-z][a-z-]+")]
    private static partial Regex Option();

    [GeneratedRegex(@"\]\((?<target>[^)#\s]+)(?:#[^)]*)?\)")]
    private static partial Regex Link();
}
