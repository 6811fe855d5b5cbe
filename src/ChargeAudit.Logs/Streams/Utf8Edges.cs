namespace ChargeAudit.Logs.Streams;

/// <summary>Cuts the halves of characters off a block that was taken from the middle of a text.</summary>
internal static class Utf8Edges
{
    /// <summary>The block without a cut character at its beginning or end.</summary>
    public static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> block)
    {
        int from = 0;
        while (from < Math.Min(3, block.Length) && (block[from] & 0xC0) == 0x80)
        {
            from++;
        }

        int to = block.Length;
        for (int back = 1; back <= Math.Min(3, block.Length - from); back++)
        {
            byte b = block[^back];
            int length = b >= 0xF0 ? 4 : b >= 0xE0 ? 3 : b >= 0xC0 ? 2 : 1;
            if (length > back)
            {
                to = block.Length - back;
                break;
            }

            if ((b & 0xC0) != 0x80)
            {
                break;
            }
        }

        return block[from..to];
    }
}
