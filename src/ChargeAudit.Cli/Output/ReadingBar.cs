using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal how far the reading of logs is: of one, or of several that may be read side by side.</summary>
internal sealed class ReadingBar : IDisposable
{
    private readonly ProgressLine _line;
    private readonly IReadOnlyList<string> _logs;
    private readonly long[] _done;
    private readonly long _bytes;
    private readonly Lock _lock = new();
    private long _bytesDone;

    private ReadingBar(CliHost host, IReadOnlyList<string> logs)
    {
        _line = new ProgressLine(host);
        _logs = logs;
        _done = new long[logs.Count];
        _bytes = logs.Where(File.Exists).Sum(l => new FileInfo(l).Length);
    }

    /// <summary>A bar for logs; null where none is wanted.</summary>
    public static ReadingBar? For(CliHost host, IReadOnlyList<string> logs, bool quiet) =>
        quiet || !host.ErrorIsTerminal || !logs.Any(File.Exists) ? null : new ReadingBar(host, logs);

    /// <summary>Takes how far one of them is.</summary>
    /// <param name="index">Which one, counted from 0.</param>
    public IProgress<long>? Of(int index) => File.Exists(_logs[index]) ? new OfLog(this, index) : null;

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();

    private void Report(int index, long bytesRead)
    {
        string name = Path.GetFileName(_logs[index]);
        lock (_lock)
        {
            _bytesDone += bytesRead - _done[index];
            _done[index] = bytesRead;
            _line.Draw(_logs.Count == 1 ? name : InvariantText.Of($"log {index + 1} of {_logs.Count}, {name}"), _bytesDone, _bytes);
        }
    }

    private sealed class OfLog(ReadingBar bar, int index) : IProgress<long>
    {
        public void Report(long value) => bar.Report(index, value);
    }
}
