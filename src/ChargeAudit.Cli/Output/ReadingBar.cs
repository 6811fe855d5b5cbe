using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal how far the reading of one log is.</summary>
internal sealed class ReadingBar : IProgress<long>, IDisposable
{
    private readonly ProgressLine _line;
    private readonly string _log;
    private readonly long _size;

    private ReadingBar(CliHost host, string log, long size)
    {
        _line = new ProgressLine(host);
        _log = Path.GetFileName(log);
        _size = size;
    }

    /// <summary>A bar for a log; null where none is wanted.</summary>
    public static ReadingBar? For(CliHost host, string log, bool quiet) =>
        quiet || !host.ErrorIsTerminal || !File.Exists(log) ? null : new ReadingBar(host, log, new FileInfo(log).Length);

    /// <inheritdoc/>
    public void Report(long value) => _line.Draw(_log, value, _size);

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();
}
