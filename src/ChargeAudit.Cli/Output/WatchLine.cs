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
    private int _width;
    private long _rows;
    private string _said = "";

    /// <summary>Says what a log shows by now, where it has grown.</summary>
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
    public void Dispose() => Clear();

    private void Draw(string line)
    {
        line = VisibleText.Of(line);
        if (!host.OutputIsTerminal)
        {
            new TerminalText(host).Line(line);
            return;
        }

        line = line.Length < host.Width ? line : line[..(host.Width - 1)];
        host.Output.Write($"\r{line.PadRight(_width)}");
        _width = line.Length;
    }

    // The end of a charge may move by a row as more is seen; what is said of it is not said again for that.
    private void Once(string first, string then)
    {
        if (_said == then)
        {
            return;
        }

        _said = then;
        Clear();
        new TerminalText(host).Line($"{first} {then}");
    }

    private void Clear()
    {
        if (_width > 0)
        {
            host.Output.Write($"\r{new string(' ', _width)}\r");
            _width = 0;
        }
    }
}
