using System.CommandLine;
using System.Text;

namespace ChargeAudit.Documents.Commands;

/// <summary>The page that lists the commands.</summary>
public static class CommandIndex
{
    /// <summary>Its Markdown.</summary>
    /// <param name="tree">The commands.</param>
    public static string Of(RootCommand tree)
    {
        var text = new StringBuilder("# Commands\n\n").Append(tree.Description).Append("\n\n| command | does |\n|---|---|\n");
        foreach (var command in tree.Subcommands)
        {
            text.Append("| [`").Append(command.Name).Append("`](").Append(command.Name).Append(".md) | ")
                .Append(CommandPage.Cell(command.Description)).Append(" |\n");
        }

        return text.Append(
            "\n`chargeaudit --version` prints the version, `chargeaudit COMMAND --help` what stands on these pages. Every command takes "
            + "`--locale TAG`: [numbers and dates](../numbers-and-dates.md) as a country writes them. [Shell "
            + "completion and manual pages](../completion.md) know all of them.\n\n")
            .Append(CommandPage.Caution).Append("\n\n")
            .Append(CommandPage.Origin).ToString();
    }
}
