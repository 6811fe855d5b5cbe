namespace ChargeAudit.Logs.Streams;

/// <summary>Turns runs of blanks and tabs between fields into one tab and drops those at line ends; text in quotes is left alone.</summary>
internal sealed class SpaceRunStream(Stream inner) : ReadOnlyFilter(inner)
{
    private readonly byte[] block = new byte[1 << 16];
    private int at;
    private int end;
    private bool quoted;
    private bool pendingSeparator;
    private bool atLineStart = true;

    public override int Read(Span<byte> buffer)
    {
        int written = 0;

        // Each byte taken gives at most two: a pending separator and itself.
        while (written == 0 || (at < end && written + 1 < buffer.Length))
        {
            if (at == end)
            {
                end = Inner.Read(block);
                at = 0;
                if (end == 0)
                {
                    return written;
                }
            }

            while (at < end && written + 1 < buffer.Length)
            {
                Take(block[at++], buffer, ref written);
            }
        }

        return written;
    }

    private void Take(byte b, Span<byte> buffer, ref int written)
    {
        if (b is (byte)'\n' or (byte)'\r')
        {
            quoted = false;
            pendingSeparator = false;
            atLineStart = true;
            buffer[written++] = b;
        }
        else if (!quoted && b is (byte)' ' or (byte)'\t')
        {
            pendingSeparator = !atLineStart;
        }
        else
        {
            if (pendingSeparator)
            {
                buffer[written++] = (byte)'\t';
                pendingSeparator = false;
            }

            atLineStart = false;
            quoted ^= b == (byte)'"';
            buffer[written++] = b;
        }
    }
}
