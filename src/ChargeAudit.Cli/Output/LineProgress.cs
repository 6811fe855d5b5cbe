using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal, in one line, which of many things is being done.</summary>
internal sealed class LineProgress : IProgress<string>, IDisposable
{
    private readonly OverwrittenLine _line;
    private readonly string _what;

    private LineProgress(CliHost host, string what) => (_line, _what) = (new OverwrittenLine(host.Error, host.Width), what);

    public static LineProgress? For(CliHost host, bool quiet, string what) => host.ErrorIsTerminal && !quiet
        ? new LineProgress(host, what)
        : null;

    /// <inheritdoc/>
    public void Report(string value) => _line.Write(WrittenMarks.Shown($"{_what} {value}"));

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();
}
