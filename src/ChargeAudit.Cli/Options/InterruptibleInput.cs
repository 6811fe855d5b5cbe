using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Cli.Options;

/// <summary>
/// Standard input that an interrupt ends: a program that waits for a pipe or a keyboard would otherwise not notice it before the next byte
/// comes.
/// </summary>
internal sealed class InterruptibleInput(Stream inner, CancellationToken cancellation) : ReadOnlyFilter(Null)
{
    /// <summary>The same input, interruptible; null where none is connected.</summary>
    public static InterruptibleInput? Of(Stream? input, CancellationToken cancellation) => input is null
        ? null
        : new InterruptibleInput(input, cancellation);

    public override int Read(Span<byte> buffer)
    {
        // A read that is given up goes on in the background, so it must not write into the caller's memory.
        byte[] own = new byte[buffer.Length];
        int length = Task.Run(() => inner.Read(own), cancellation).WaitAsync(cancellation).GetAwaiter().GetResult();
        own.AsSpan(0, length).CopyTo(buffer);
        return length;
    }
}
