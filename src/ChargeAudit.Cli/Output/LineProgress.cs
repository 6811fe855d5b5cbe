using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Output;

/// <summary>One line on a terminal that is written over and over, and gone at the end.</summary>
internal sealed class LineProgress : IProgress<string>, IDisposable
{
    private readonly CliHost _host;
    private readonly string _what;
    private int _width;

    private LineProgress(CliHost host, string what)
    {
        _host = host;
        _what = what;
    }

    public static LineProgress? For(CliHost host, bool quiet, string what) => host.ErrorIsTerminal && !quiet
        ? new LineProgress(host, what)
        : null;

    /// <inheritdoc/>
    public void Report(string value)
    {
        string line = VisibleText.Of(WrittenMarks.Shown($"{_what} {value}"));
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
