using System.CommandLine;
using System.Globalization;
using System.Text;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Cli.Settings;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Shells;

/// <summary>Manual pages in the language of man(7), from the program's own tree of commands.</summary>
internal static class ManPage
{
    /// <summary>Name of a page: the program's, or the program's and the command's.</summary>
    public static string NameOf(Command command) => command is RootCommand ? "chargeaudit" : $"chargeaudit-{command.Name}";

    /// <summary>The page of the program or of one command.</summary>
    /// <param name="command">Which.</param>
    /// <param name="root">The program.</param>
    public static string Of(Command command, RootCommand root)
    {
        var page = new StringBuilder();
        string name = NameOf(command);
        page.Append(".TH ").Append(name.ToUpperInvariant()).Append(" 1 \"\" \"ChargeAudit ").Append(ProgramVersion.Text)
            .Append("\" \"User Commands\"\n");
        string title = command is RootCommand ? "compare the energy of charging by cable and on a pad" : FirstSentence(command.Description);
        page.Append(".SH NAME\n").Append(Escaped(name)).Append(" \\- ").Append(Escaped(title)).Append('\n');
        page.Append(".SH SYNOPSIS\n.B chargeaudit\n").Append(command is RootCommand
            ? ".I COMMAND\n[\\fIOPTION\\fR ...]\n"
            : $".B {Escaped(command.Name)}\n{string.Concat(command.Arguments.Select(Synopsis))}[\\fIOPTION\\fR ...]\n");
        page.Append(".SH DESCRIPTION\n").Append(Escaped(command.Description)).Append('\n');
        if (command is RootCommand)
        {
            page.Append(".SH COMMANDS\n");
            foreach (var sub in root.Subcommands)
            {
                Item(page, $"\\fB{Escaped(NameOf(sub))}\\fR(1)", sub.Description);
            }
        }
        else
        {
            Parts(page, command, root);
        }

        page.Append(".SH EXIT STATUS\n");
        foreach (var (status, meaning) in ExitStatuses.Of(command.Name))
        {
            Item(page, $"\\fB{status.ToString(CultureInfo.InvariantCulture)}\\fR", meaning);
        }

        page.Append(".SH ENVIRONMENT\n");
        foreach (var setting in Setting.All)
        {
            Item(page, $"\\fB{setting.Variable}\\fR", setting.Meaning);
        }

        page.Append(".SH FILES\n");
        Item(page, $"\\fI$XDG_CONFIG_HOME/chargeaudit/{UserSettings.FileName}\\fR", "the same defaults; chargeaudit settings shows them");
        page.Append(".SH EXAMPLES\n.nf\n");
        foreach (string example in CommandExamples.Of(command))
        {
            page.Append(Escaped(example)).Append('\n');
        }

        page.Append(".fi\n.SH CAUTIONS\n");
        if (command is RootCommand)
        {
            foreach (string caution in Cautions.All)
            {
                page.Append(".IP \\(bu 2\n").Append(Escaped(caution)).Append('\n');
            }
        }
        else
        {
            page.Append(Escaped($"{Cautions.Line} {CautionText.Elsewhere}")).Append('\n');
        }

        page.Append(".SH SEE ALSO\n");
        var others = command is RootCommand ? root.Subcommands.Select(NameOf) : ["chargeaudit"];
        return page.AppendJoin(",\n", others.Select(o => $"\\fB{Escaped(o)}\\fR(1)")).Append('\n').ToString();
    }

    private static void Parts(StringBuilder page, Command command, RootCommand root)
    {
        if (command.Arguments.Count > 0)
        {
            page.Append(".SH ARGUMENTS\n");
            foreach (var argument in command.Arguments)
            {
                Item(page, $"\\fI{Escaped(argument.Name)}\\fR", argument.Description);
            }
        }

        page.Append(".SH OPTIONS\n");
        foreach (var option in OfferedCommand.OptionsOf(command, root))
        {
            string value = option.ValueType == typeof(bool)
                ? ""
                : $" \\fI{Escaped(option.HelpName ?? "VALUE")}\\fR";
            bool worded = option.HasDefaultValue && option.ValueType == typeof(string);
            string otherwise = worded && option.GetDefaultValue() is string { Length: > 0 } text ? $" (default {text})" : "";
            Item(page, $"\\fB{Escaped(option.Name)}\\fR{value}", option.Description + otherwise);
        }
    }

    private static string Synopsis(Argument argument) =>
        argument.Arity.MinimumNumberOfValues == 0
            ? $"[\\fI{Escaped(argument.Name)}\\fR{Many(argument)}]\n"
            : $"\\fI{Escaped(argument.Name)}\\fR{Many(argument)}\n";

    private static string Many(Argument argument) => argument.Arity.MaximumNumberOfValues > 1 ? " ..." : "";

    private static void Item(StringBuilder page, string tag, string? text) =>
        page.Append(".TP\n").Append(tag).Append('\n').Append(Escaped(text)).Append('\n');

    private static string FirstSentence(string? text)
    {
        string first = (text ?? "").Split(':', 2)[0].TrimEnd('.');
        return first.Length > 0 ? char.ToLowerInvariant(first[0]) + first[1..] : first;
    }

    // A backslash and a dash mean something to the formatter, and so do a dot and a quote that begin a line.
    private static string Escaped(string? text)
    {
        string plain = (text ?? "").ReplaceLineEndings(" ").Replace("\\", "\\e", StringComparison.Ordinal)
            .Replace("-", "\\-", StringComparison.Ordinal);
        return plain is ['.' or '\'', ..] ? $"\\&{plain}" : plain;
    }
}
