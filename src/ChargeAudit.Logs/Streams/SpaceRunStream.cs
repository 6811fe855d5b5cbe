namespace ChargeAudit.Logs.Streams;

/// <summary>Turns runs of blanks and tabs between fields into one tab and drops those at line ends; text in quotes is left alone.</summary>
internal sealed class SpaceRunStream(Stream inner) : ReadOnlyFilter(inner)
{
    private readonly byte[] _block = new byte[1 << 16];
    private int _at;
    private int _end;
    private bool _quoted;
    private bool _pendingSeparator;
    private bool _atLineStart = true;

    public override int Read(Span<byte> buffer)
    {
        int written = 0;

        // Each byte taken gives at most two: a pending separator and itself.
        while (written == 0 || (_at < _end && written + 1 < buffer.Length))
        {
            if (_at == _end)
            {
                _end = Inner.Read(_block);
                _at = 0;
                if (_end == 0)
                {
                    return written;
                }
            }

            while (_at < _end && written + 1 < buffer.Length)
            {
                Take(_block[_at++], buffer, ref written);
            }
        }

        return written;
    }

    private void Take(byte b, Span<byte> buffer, ref int written)
    {
        if (b is (byte)'\n' or (byte)'\r')
        {
            _quoted = false;
            _pendingSeparator = false;
            _atLineStart = true;
            buffer[written++] = b;
        }
        else if (!_quoted && b is (byte)' ' or (byte)'\t')
        {
            _pendingSeparator = !_atLineStart;
        }
        else
        {
            if (_pendingSeparator)
            {
                buffer[written++] = (byte)'\t';
                _pendingSeparator = false;
            }

            _atLineStart = false;
            _quoted ^= b == (byte)'"';
            buffer[written++] = b;
        }
    }
}
