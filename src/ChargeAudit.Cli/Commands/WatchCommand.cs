using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>watch LOG</c>: a log as it grows, and its measurement at the end.</summary>
internal sealed class WatchCommand
{
    private const string Full = "full";

    private readonly Argument<string> _log = new("LOG") { Description = "the meter log that is being written, a file of plain text" };
    private readonly Option<string?> _until =
        CommonOptions.OptionalWord("--until", "end by itself: full ends when a charge is over and no pause can have been taken for its end",
        Full);
    private readonly Option<double?> _every =
        CommonOptions.Number("--every", "how often the log is looked at, from 0.05 to 3600 (default 2)", "SECONDS");
    private readonly Option<string> _format = CommonOptions.Format();
    private readonly Option<bool> _quiet = CommonOptions.Quiet();
    private readonly CliHost _host;
    private readonly LogOptionsBinder _binder;

    private WatchCommand(CliHost host)
    {
        _host = host;
        _binder = new LogOptionsBinder(host);
        _log.Validators.Add(CommonOptions.RefuseOptionLikeNames);
    }

    public static Command Create(CliHost host)
    {
        var self = new WatchCommand(host);
        var command = new Command("watch",
            "Follows a log that is being written: power, energy so far and mode on one line; then measures it.")
        {
            self._log, self._until, self._every, self._format, self._quiet,
        };
        self._binder.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), CancellationToken.None));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation)
    {
        double everyS = parse.GetValue(_every) ?? 2;
        if (everyS is < 0.05 or > 3600)
        {
            throw new InputException(InputProblem.Usage, $"--every is {parse.GetValue(_every)}; seconds from 0.05 to 3600 were expected");
        }

        string log = parse.GetValue(_log)!;
        var request = new MeasureRequest { Paths = [log], Meter = _binder.Bind(parse, null) };
        bool json = parse.GetValue(_format) == "json", quiet = parse.GetValue(_quiet);
        bool untilFull = parse.GetValue(_until) == Full;
        using (var lines = new WatchLine(_host, quiet || json))
        {
            Follow(request, lines, () => !cancellation.WaitHandle.WaitOne(TimeSpan.FromSeconds(everyS)), untilFull);
        }

        // The layout is decided anew, from the whole log, so the result is that of reading the log once, whether or not it was watched.
        var measured = _binder.WithDoubt(parse, LogMeasurer.Measure(request, null, CancellationToken.None).Result);
        if (json)
        {
            _host.Output.Write(ResultsJson.Measure([measured]));
        }
        else if (!quiet)
        {
            MeasureText.Write(new TerminalText(_host), measured);
        }

        return cancellation.IsCancellationRequested ? ExitStatus.Interrupted : ExitStatus.Done;
    }

    // A log that has just begun may not show yet what it holds: it is opened again when it has grown.
    private static void Follow(MeasureRequest request, WatchLine lines, Func<bool> wait, bool untilFull)
    {
        bool done = false, seen = false;
        while (!done)
        {
            try
            {
                LogFollower.Follow(request, soFar =>
                {
                    seen = true;
                    var now = soFar();
                    lines.Say(now);
                    return !(done = (untilFull && now?.Charge is { IsOver: true }) || !wait());
                });
            }
            catch (InputException e) when (e.Problem == InputProblem.Unusable && !seen)
            {
                lines.Waiting(e.Message);
                done = !wait();
            }
        }
    }
}
