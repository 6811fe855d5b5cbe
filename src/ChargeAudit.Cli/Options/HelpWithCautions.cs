using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Output;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Options;

/// <summary>The usual help with examples and the cautions below it: all of these for the program, one line for a command.</summary>
internal sealed class HelpWithCautions(HelpAction help, CliHost host) : SynchronousCommandLineAction
{
    public override bool Terminating => help.Terminating;

    public override bool ClearsParseErrors => help.ClearsParseErrors;

    /// <summary>Gives a tree of commands this help.</summary>
    public static void AddTo(RootCommand root, CliHost host)
    {
        foreach (var option in root.Options.OfType<HelpOption>())
        {
            option.Action = new HelpWithCautions((HelpAction)option.Action!, host);
        }
    }

    public override int Invoke(ParseResult parseResult)
    {
        int status = help.Invoke(parseResult);
        var text = new TerminalText(host);
        text.Title("Examples:");
        foreach (string example in CommandExamples.Of(parseResult.CommandResult.Command))
        {
            // Not broken at the width of the terminal: a command is to be copied.
            host.Output.WriteLine($"  {example}");
        }

        host.Output.WriteLine();
        text.Title("Cautions:");
        if (parseResult.CommandResult.Command is RootCommand)
        {
            text.Bullets(Cautions.All);
        }
        else
        {
            text.Line($"{Cautions.Line} {CautionText.Elsewhere}");
        }

        return status;
    }
}
