using System.Text;

namespace ChargeAudit.Cli.Hosting;

/// <summary>Standard error where a failure is passed over: there is nowhere left to report it but the exit status.</summary>
/// <param name="inner">The real error output.</param>
internal sealed class SilentError(TextWriter inner) : TextWriter
{
    public override Encoding Encoding => inner.Encoding;

    public override void Write(char value) => Silently(() => inner.Write(value));

    public override void Write(string? value) => Silently(() => inner.Write(value));

    public override void Flush() => Silently(inner.Flush);

    private static void Silently(Action write)
    {
        try
        {
            write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ObjectDisposedException)
        {
            // Nobody reads it.
        }
    }
}
