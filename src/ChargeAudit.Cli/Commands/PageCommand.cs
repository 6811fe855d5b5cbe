using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Page;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>page</c>: the comparison on a page in a browser of this machine.</summary>
internal static class PageCommand
{
    public static Command Create(CliHost host)
    {
        var port = CommonOptions.Number("--port", "port to answer on (default: one that is free)", "NUMBER");
        var noBrowser = new Option<bool>("--no-browser") { Description = "print the address and open no browser" };
        var command = new Command(
            "page", "Compares logs on a page in the browser: drop them, say which are which, read the report. Nothing leaves this machine.")
        {
            port, noBrowser,
        };
        var told = new ToldOptions();
        told.AddTo(command);
        command.SetAction(async (parse, cancellation) =>
        {
            double asked = parse.GetValue(port) ?? 0;
            if (asked is < 0 or > 65535 || asked != Math.Floor(asked))
            {
                throw new InputException(InputProblem.Usage,
                    InvariantText.Of($"--port is {asked}; a whole number from 0 to 65535 was expected"));
            }

            Action<string>? open = parse.GetValue(noBrowser) || !host.OutputIsPerson ? null : Browser.Open;
            await PageServer.RunAsync((int)asked, PageLimits.Usual, host, told.Bind(parse), cancellation, open).ConfigureAwait(false);

            // The interrupt is the one way to end it, so it is not a failure.
            return ExitStatus.Done;
        });
        return command;
    }
}
