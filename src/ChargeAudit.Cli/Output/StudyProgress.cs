using ChargeAudit.Cli.Hosting;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal which log of a study is being read, and how far the reading of all of them is.</summary>
internal sealed class StudyProgress : IProgress<ReadingProgress>, IDisposable
{
    private readonly ProgressLine _line;

    private StudyProgress(CliHost host) => _line = new ProgressLine(host);

    public static StudyProgress? For(CliHost host) => host.ErrorIsTerminal ? new StudyProgress(host) : null;

    /// <inheritdoc/>
    public void Report(ReadingProgress value) => _line.Draw(
        InvariantText.Of($"log {value.Log} of {value.Logs}, {Path.GetFileName(value.File)}"), value.BytesReadInAll, value.BytesInAll);

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();
}
