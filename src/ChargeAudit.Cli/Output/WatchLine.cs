using ChargeAudit.Cli.Hosting;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>
/// One line that says where a growing log is. On a terminal it is written over and over; elsewhere each is a line of its own. What is said
/// once, that a charge has ended and that long enough was seen, stays.
/// </summary>
/// <param name="host">Where to.</param>
/// <param name="silent">Whether nothing is said.</param>
internal sealed class WatchLine(CliHost host, bool silent) : IDisposable
{
    private readonly OverwrittenLine _line = new(host.Output, host.Width);
    private long _rows;
    private string _said = "";

    /// <summary>Says what a log shows by now, if it has grown.</summary>
    public void Say(LogSoFar? now)
    {
        if (now is null || now.Rows == _rows || silent)
        {
            return;
        }

        _rows = now.Rows;
        var mode = now.Modes[^1];
        Draw($"{MeasureText.Clock(now.Layout, now.EndS)}  {FigureText.Value(now.LatestPower)}  {FigureText.Of(now.Energy)} so far  "
            + $"{Words.Mode(mode.Mode)} since {MeasureText.Clock(now.Layout, mode.StartS)}");
        if (now.Charge is { EndS: { } end } charge)
        {
            Once($"The charge ended at {MeasureText.Clock(now.Layout, end)} and took {FigureText.Of(charge.Energy)}.", charge.IsOver
                ? $"The log is long enough: the charge did not go on within {FigureText.Duration(charge.NeededS)}, so it is over."
                : $"It may go on within {FigureText.Duration(charge.NeededS)}; the log is long enough after that.");
        }
    }

    /// <summary>Says why a log cannot be followed yet.</summary>
    public void Waiting(string why)
    {
        if (!silent)
        {
            Once("Waiting for more of the log.", why);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();

    private void Draw(string line)
    {
        if (host.OutputIsTerminal)
        {
            _line.Write(line);
        }
        else
        {
            new TerminalText(host).Line(VisibleText.Of(line));
        }
    }

    // The end of a charge may move by a row as more is seen; what is said of it is not said again for that.
    private void Once(string first, string then)
    {
        if (_said == then)
        {
            return;
        }

        _said = then;
        _line.Clear();
        new TerminalText(host).Line($"{first} {then}");
    }
}
