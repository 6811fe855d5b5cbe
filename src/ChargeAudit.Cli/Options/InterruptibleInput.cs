namespace ChargeAudit.Cli.Options;

/// <summary>
/// Standard input that an interrupt ends: a program that waits for a pipe or a keyboard would otherwise not notice it before the next byte
/// comes.
/// </summary>
internal sealed class InterruptibleInput(Stream inner, CancellationToken cancellation) : Stream
{
    /// <summary>The same input, interruptible; null where none is connected.</summary>
    public static InterruptibleInput? Of(Stream? input, CancellationToken cancellation) => input is null
        ? null
        : new InterruptibleInput(input, cancellation);

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count)
    {
        // A read that is given up goes on in the background, so it must not write into the caller's memory.
        byte[] own = new byte[count];
        int length = Task.Run(() => inner.Read(own, 0, count), cancellation).WaitAsync(cancellation).GetAwaiter().GetResult();
        own.AsSpan(0, length).CopyTo(buffer.AsSpan(offset));
        return length;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
