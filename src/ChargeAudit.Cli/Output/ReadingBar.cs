using System.Globalization;

namespace ChargeAudit.Cli.Output;

/// <summary>One line on a terminal that says how far a long reading is, how fast, and how long it will take. Draws nothing elsewhere, and nothing for the first half second.</summary>
internal sealed class ReadingBar : IProgress<long>, IDisposable
{
    private static readonly TimeSpan FirstAfter = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan NextAfter = TimeSpan.FromSeconds(0.2);

    private readonly CliHost _host;
    private readonly string _log;
    private readonly long _size;
    private readonly long _started;
    private long _drawn;
    private int _width;

    private ReadingBar(CliHost host, string log, long size)
    {
        _host = host;
        _log = log;
        _size = size;
        _started = host.Clock.GetTimestamp();
        _drawn = _started;
    }

    /// <summary>A bar for a log; null where none is wanted.</summary>
    public static ReadingBar? For(CliHost host, string log, bool quiet) =>
        quiet || !host.ErrorIsTerminal || !File.Exists(log) ? null : new ReadingBar(host, log, new FileInfo(log).Length);

    /// <inheritdoc/>
    public void Report(long value)
    {
        var elapsed = _host.Clock.GetElapsedTime(_started);
        if (elapsed < FirstAfter || _host.Clock.GetElapsedTime(_drawn) < NextAfter)
        {
            return;
        }

        _drawn = _host.Clock.GetTimestamp();
        double rate = value / elapsed.TotalSeconds;
        double left = rate > 0 ? Math.Max(0, _size - value) / rate : 0;
        string line = string.Create(
            CultureInfo.InvariantCulture,
            $"{Path.GetFileName(_log)}: {100.0 * value / Math.Max(1, _size):F0} %, {rate / 1e6:F0} MB/s, {left:F0} s left");
        line = line.Length < _host.Width ? line : line[..(_host.Width - 1)];
        _host.Error.Write($"\r{line.PadRight(_width)}");
        _width = line.Length;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_width > 0)
        {
            _host.Error.Write($"\r{new string(' ', _width)}\r");
        }
    }
}
