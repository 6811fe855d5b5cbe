using System.CommandLine;
using System.Text;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Shells;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>man [COMMAND]</c>: the manual page of the program or of one command, or all of them as files.</summary>
internal static class ManCommand
{
    public static Command Create(CliHost host, RootCommand root)
    {
        var named = new Argument<string?>("COMMAND")
        {
            Description = "the command whose page is meant; without one, the program's page",
            HelpName = "COMMAND",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var folder = CommonOptions.Text("--out", "write all pages into this folder, such as ~/.local/share/man/man1", "DIR");
        var command = new Command("man", "Prints a manual page, for man -l or a folder of manual pages.") { named, folder };
        named.Validators.Add(result =>
        {
            if (result.Tokens.Count > 0 && root.Subcommands.All(c => c.Name != result.Tokens[0].Value))
            {
                string[] known = [.. root.Subcommands.Select(c => c.Name)];
                string word = result.Tokens[0].Value;
                result.AddError(Mistyped.Near(word, known) is { } near
                    ? $"there is no command {word}; did you mean {near}?"
                    : $"there is no command {word}; the commands are {string.Join(", ", known)}");
            }
        });
        named.CompletionSources.Add(_ => root.Subcommands.Select(c => new System.CommandLine.Completions.CompletionItem(c.Name)));
        command.SetAction(parse =>
        {
            Command page = parse.GetValue(named) is { } name ? root.Subcommands.Single(c => c.Name == name) : root;
            if (parse.GetValue(folder) is not { } to)
            {
                host.Output.Write(ManPage.Of(page, root));
                return ExitStatus.Done;
            }

            foreach (var each in root.Subcommands.Prepend<Command>(root))
            {
                AtomicFile.Write(Path.Combine(to, $"{ManPage.NameOf(each)}.1"), Encoding.UTF8.GetBytes(ManPage.Of(each, root)));
            }

            return ExitStatus.Done;
        });
        return command;
    }
}
