using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal, in one line, which of many logs is looked at.</summary>
internal sealed class LineProgress : IProgress<string>, IDisposable
{
    private readonly OverwrittenLine _line;

    private LineProgress(CliHost host) => _line = new OverwrittenLine(host.Error, host.Width);

    public static LineProgress? For(CliHost host, bool quiet) => host.ErrorIsTerminal && !quiet ? new LineProgress(host) : null;

    /// <inheritdoc/>
    public void Report(string value) => _line.Write(WrittenMarks.Shown($"looking at log {value}"));

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();
}
