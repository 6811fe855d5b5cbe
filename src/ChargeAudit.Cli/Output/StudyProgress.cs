using ChargeAudit.Analysis.Auditing;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal which log of a study is being read.</summary>
internal sealed class StudyProgress : IProgress<ReadingProgress>, IDisposable
{
    private readonly CliHost _host;
    private string? _file;
    private int _width;

    private StudyProgress(CliHost host) => _host = host;

    public static StudyProgress? For(CliHost host) => host.ErrorIsTerminal ? new StudyProgress(host) : null;

    /// <inheritdoc/>
    public void Report(ReadingProgress value)
    {
        if (value.File == _file)
        {
            return;
        }

        _file = value.File;
        string line = FormattableString.Invariant($"reading log {value.Log} of {value.Logs}: {Path.GetFileName(value.File)}");
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
            _width = 0;
        }
    }
}
