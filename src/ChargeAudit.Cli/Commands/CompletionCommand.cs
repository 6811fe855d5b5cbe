using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Shells;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>completion SHELL</c>: the script that teaches a shell to complete the program's command lines.</summary>
internal static class CompletionCommand
{
    private static readonly Dictionary<string, Func<IReadOnlyList<OfferedCommand>, string>> Scripts = new(StringComparer.Ordinal)
    {
        ["bash"] = BashCompletion.Of,
        ["zsh"] = ZshCompletion.Of,
        ["fish"] = FishCompletion.Of,
        ["powershell"] = PowerShellCompletion.Of,
    };

    public static Command Create(CliHost host, RootCommand root)
    {
        var shell = new Argument<string>("SHELL")
        {
            Description = string.Join(", ", Scripts.Keys.SkipLast(1)) + " or powershell",
            HelpName = "SHELL",
        };
        shell.AcceptOnlyFromAmong([.. Scripts.Keys]);
        var command = new Command("completion", "Prints the script that teaches a shell to complete commands, options and their words.")
        {
            shell,
        };
        command.SetAction(parse =>
        {
            host.Output.Write(Scripts[parse.GetValue(shell)!](OfferedCommand.Of(root)));
            return ExitStatus.Done;
        });
        return command;
    }
}
