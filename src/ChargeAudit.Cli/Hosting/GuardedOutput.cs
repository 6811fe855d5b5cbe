using System.Text;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Hosting;

/// <summary>
/// Standard output whose failure is one sentence and exit status 73: a full disk, a device that takes nothing, an output that was closed.
/// Nothing is written after the first failure.
/// </summary>
/// <param name="inner">The real output.</param>
internal sealed class GuardedOutput(TextWriter inner) : TextWriter
{
    public override Encoding Encoding => inner.Encoding;

    /// <summary>Whether a write has failed.</summary>
    public bool Failed { get; private set; }

    public override void Write(char value) => Guarded(() => inner.Write(value));

    public override void Write(string? value) => Guarded(() => inner.Write(value));

    public override void Write(char[] buffer, int index, int count) => Guarded(() => inner.Write(buffer, index, count));

    public override void Flush() => Guarded(inner.Flush);

    private void Guarded(Action write)
    {
        if (Failed)
        {
            return;
        }

        try
        {
            write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ObjectDisposedException or NotSupportedException)
        {
            Failed = true;
            throw new InputException(
                InputProblem.CannotWrite,
                $"standard output cannot be written ({e.Message.TrimEnd('.')}); direct it to a file or a terminal that takes it", e);
        }
    }
}
