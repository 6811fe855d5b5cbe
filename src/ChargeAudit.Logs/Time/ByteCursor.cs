namespace ChargeAudit.Logs.Time;

/// <summary>Walks over the bytes of one field.</summary>
internal ref struct ByteCursor(ReadOnlySpan<byte> text)
{
    private readonly ReadOnlySpan<byte> _text = text;

    public int At { get; set; }

    public readonly bool AtEnd => At >= _text.Length;

    /// <summary>The next byte, or 0 at the end.</summary>
    public readonly byte Peek => At < _text.Length ? _text[At] : (byte)0;

    public readonly byte PeekAfter(int count) => At + count < _text.Length ? _text[At + count] : (byte)0;

    public bool Take(char expected)
    {
        if (Peek != expected)
        {
            return false;
        }

        At++;
        return true;
    }

    /// <summary>Takes the first of some texts that stands here.</summary>
    public bool TakeAny(byte[][] texts)
    {
        foreach (byte[] text in texts)
        {
            if (At < _text.Length && _text[At..].StartsWith(text))
            {
                At += text.Length;
                return true;
            }
        }

        return false;
    }

    public void SkipBlanks()
    {
        while (Peek is (byte)' ' or (byte)'\t')
        {
            At++;
        }
    }

    /// <summary>Passes over letters where all of them stand here.</summary>
    public void SkipLetters(ReadOnlySpan<byte> letters) => At += At < _text.Length && _text[At..].StartsWith(letters) ? letters.Length : 0;

    /// <summary>Takes a run of digits.</summary>
    /// <returns>How many there were; above 18 counts as none.</returns>
    public int TakeDigits(out long value)
    {
        value = 0;
        int from = At;
        while (Peek is >= (byte)'0' and <= (byte)'9')
        {
            value = At - from < 18 ? (value * 10) + (Peek - '0') : value;
            At++;
        }

        return At - from > 18 ? 0 : At - from;
    }

    /// <summary>Takes letters of any alphabet.</summary>
    public ReadOnlySpan<byte> TakeLetters()
    {
        int from = At;
        while (char.IsAsciiLetter((char)Peek) || Peek > 0x7F)
        {
            At++;
        }

        return _text[from..At];
    }
}
