using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;

namespace ChargeAudit.Tests.Cli;

/// <summary>What <c>--help</c> prints of the program and of each command.</summary>
public sealed class HelpTests
{
    public static TheoryData<string> Commands =>
    [
        .. ChargeAuditProgram.CommandTree(new CliHost { Output = TextWriter.Null, Error = TextWriter.Null }).Subcommands
            .Select(c => c.Name),
    ];

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task The_help_of_a_command_shows_its_examples_and_each_default_once(string name)
    {
        using var output = new StringWriter { NewLine = "\n" };
        var host = new CliHost { Output = output, Error = TextWriter.Null };
        Assert.Equal(0, await ChargeAuditProgram.RunAsync([name, "--help"], host, TestContext.Current.CancellationToken));
        string[] lines = output.ToString().Split('\n');
        var command = ChargeAuditProgram.CommandTree(host).Subcommands.Single(c => c.Name == name);
        var examples = CommandExamples.Of(command);
        Assert.Contains(examples, e => e.StartsWith($"chargeaudit {name}", StringComparison.Ordinal));
        Assert.Equal(examples.Select(e => $"  {e}"), lines.SkipWhile(l => l != "Examples:").Skip(1).TakeWhile(l => l.Length > 0));
        Assert.DoesNotContain(lines,
            l => l.Contains("(default", StringComparison.Ordinal) && l.Contains("[default:", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_help_of_the_program_shows_how_to_begin()
    {
        using var output = new StringWriter { NewLine = "\n" };
        await ChargeAuditProgram.RunAsync(["--help"], new CliHost { Output = output, Error = TextWriter.Null },
            TestContext.Current.CancellationToken);
        Assert.Contains("Examples:\n  chargeaudit audit sample-logs/study.toml\n  chargeaudit page\n", output.ToString(),
            StringComparison.Ordinal);
    }

    // The longest name sets where the descriptions of all begin: of 80 columns two thirds are left for them.
    [Fact]
    public async Task The_list_of_commands_leaves_room_for_what_they_do()
    {
        using var output = new StringWriter { NewLine = "\n" };
        await ChargeAuditProgram.RunAsync(["--help"], new CliHost { Output = output, Error = TextWriter.Null },
            TestContext.Current.CancellationToken);
        string[] commands =
            [.. output.ToString().Split('\n').SkipWhile(l => l != "Commands:").Skip(1).TakeWhile(l => l.Length > 0).Select(l => l.Trim())];
        Assert.True(commands.Length >= 16, string.Join('\n', commands));
        Assert.All(commands, c => Assert.InRange(c.IndexOf("  ", StringComparison.Ordinal), 1, 24));
    }
}
