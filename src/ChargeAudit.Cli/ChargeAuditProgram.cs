using System.CommandLine;
using System.CommandLine.Invocation;
using ChargeAudit.Cli.Commands;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Cli;

/// <summary>The whole program: parses the command line, runs a command and turns every outcome into an exit status.</summary>
public static class ChargeAuditProgram
{
    /// <summary>Runs the program.</summary>
    /// <param name="args">Command-line arguments, without the program's name.</param>
    /// <param name="host">The world around it.</param>
    /// <param name="cancellation">Asks it to stop, besides an interrupt.</param>
    /// <returns>The exit status.</returns>
    public static Task<int> RunAsync(string[] args, CliHost host, CancellationToken cancellation = default) =>
        // The version needs no commands, whose tree takes longer to make than all else that a start needs.
        args is ["--version"] ? Task.FromResult(Version(host)) : CommandAsync(args, host, cancellation);

    private static async Task<int> CommandAsync(string[] args, CliHost host, CancellationToken cancellation)
    {
        // They are taken until the last word is said.
        using var interrupts = host.TakesInterrupts ? Interrupts.Listen(host.Clock, cancellation) : null;
        var root = CommandTree(host, string.Join(' ', args.Select(a => Quoted(PublicNames.Of(a)))));

        // A log may be called @a.csv: response files stay off.
        var parse = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        bool json = WantsJson(args);
        if (Mistyped.Empty(args) is { } empty)
        {
            return Fail(host, json, ExitStatus.Usage, empty);
        }

        if (parse.Errors.Count > 0 && parse.Action is ParseErrorAction)
        {
            return Fail(host, json, ExitStatus.Usage, Mistyped.Sentence(parse, args));
        }

        WrittenForm? form;
        try
        {
            form = LocaleOption.Of(parse, host);
        }
        catch (InputException e)
        {
            return Fail(host, json, ExitStatus.Of(e.Problem), e.Message);
        }

        using var written = form?.Use();
        try
        {
            var configuration = new InvocationConfiguration
            {
                Output = host.Output,
                Error = host.Error,
                EnableDefaultExceptionHandler = false,

                // Its own handler fails at a second interrupt.
                ProcessTerminationTimeout = null,
            };
            return await parse.InvokeAsync(configuration, interrupts?.Token ?? cancellation).ConfigureAwait(false);
        }
        catch (InputException e)
        {
            return Fail(host, json, ExitStatus.Of(e.Problem), RemedyOptions.Sentence(e));
        }
        catch (OperationCanceledException)
        {
            return Fail(host, json, ExitStatus.Interrupted, "interrupted; nothing was left half-written");
        }

        // The last line of defence: whatever went wrong is ours, and the user gets a sentence instead of a stack trace.
#pragma warning disable CA1031
        catch (Exception e)
#pragma warning restore CA1031
        {
            if (Environment.GetEnvironmentVariable("CHARGEAUDIT_TRACE") == "1")
            {
                host.Error.WriteLine(e);
            }

            return Fail(host, json, ExitStatus.ProgramFault,
                $"a fault of the program itself ({e.GetType().Name}: {e.Message.ReplaceLineEndings(" ").TrimEnd('.')}); please report it "
                + "with the command, what it prints with CHARGEAUDIT_TRACE=1 and, if you can, the log");
        }
    }

    /// <summary>Every command with its arguments and options; documents and completion are made from it.</summary>
    /// <param name="host">The world around it.</param>
    /// <param name="commandLine">The command line as it was given, for the provenance of results.</param>
    public static RootCommand CommandTree(CliHost host, string commandLine = "")
    {
        var root =
            new RootCommand(
                "Compares the energy of charging by cable and on a pad, from power-meter logs: overhead, losses, stand-by, cost of a "
            + "year.")
            {
                HelpName = "chargeaudit",
            };
        root.Add(AuditCommand.Create(host, commandLine));
        root.Add(MeasureCommand.Create(host));
        root.Add(WatchCommand.Create(host));
        root.Add(SummarizeCommand.Create(host));
        root.Add(InspectCommand.Create(host));
        root.Add(CheckCommand.Create(host, commandLine));
        root.Add(PoolCommand.Create(host));
        root.Add(PlanCommand.Create(host));
        root.Add(BundleCommand.Create(host, commandLine));
        root.Add(DraftCommand.Create(host));
        root.Add(SimulateCommand.Create(host));
        root.Add(CoilsCommand.Create(host));
        root.Add(PageCommand.Create(host));
        root.Add(SettingsCommand.Create(host));
        root.Add(CompletionCommand.Create(host, root));
        root.Add(ManCommand.Create(host, root));
        root.Add(LocaleOption.Create());
        HelpWithCautions.AddTo(root, host);
        return root;
    }

    private static int Version(CliHost host)
    {
        try
        {
            host.Output.WriteLine(ProgramVersion.Whole);
            return ExitStatus.Done;
        }
        catch (InputException e)
        {
            return Fail(host, json: false, ExitStatus.Of(e.Problem), e.Message);
        }
    }

    private static int Fail(CliHost host, bool json, int status, string sentence)
    {
        if (json && host.Output is not GuardedOutput { Failed: true })
        {
            try
            {
                host.Output.Write(ResultsJson.Error(status, sentence));
            }
            catch (InputException e) when (e.Problem == InputProblem.CannotWrite)
            {
                (status, sentence) = (ExitStatus.CannotWrite, e.Message);
            }
        }

        host.Error.WriteLine($"chargeaudit: {VisibleText.Of(WrittenMarks.Shown(sentence))}");
        return status;
    }

    private static bool WantsJson(string[] args)
    {
        int at = Array.IndexOf(args, CommonOptions.FormatName);
        return (at >= 0 && at + 1 < args.Length && args[at + 1] == "json") || args.Contains($"{CommonOptions.FormatName}=json");
    }

    private static string Quoted(string argument) => argument.Length > 0 && !argument.Any(char.IsWhiteSpace) ? argument : $"\"{argument}\"";
}
