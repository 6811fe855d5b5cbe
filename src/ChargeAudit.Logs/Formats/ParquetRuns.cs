namespace ChargeAudit.Logs.Formats;

/// <summary>Goes through small numbers that are written as runs: so many times the same, or so many one after the other in bits.</summary>
/// <remarks><i>Source:</i> Apache Parquet format, Encodings: run length encoding and bit packing hybrid (RLE = 3).</remarks>
internal static class ParquetRuns
{
    private const int MostWidth = 32;

    /// <summary>Goes through a stretch of runs. The last run must bring the count to what was asked for, and the bytes must end with it.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="width">Bits of a number.</param>
    /// <param name="wanted">How many numbers there must be.</param>
    /// <param name="most">Greatest number that is allowed.</param>
    /// <returns>How many of the numbers are the greatest.</returns>
    /// <exception cref="InvalidDataException">They are more, fewer or greater.</exception>
    public static long Count(ReadOnlySpan<byte> bytes, int width, long wanted, long most)
    {
        if (width is < 0 or > MostWidth)
        {
            throw ThriftFields.Damaged();
        }

        long greatest = 0;
        long count = 0;
        while (count < wanted)
        {
            ulong head = ThriftFields.ReadVarint(ref bytes);
            bool same = (head & 1) == 0;
            long numbers = head >> 1 is > 0 and <= int.MaxValue ? (long)(head >> 1) * (same ? 1 : 8) : throw ThriftFields.Damaged();
            long size = same ? (width + 7) / 8 : numbers / 8 * width;
            // Packed numbers fill whole bytes, and more of them may be there than are meant.
            if (size > bytes.Length || (same && numbers > wanted - count))
            {
                throw ThriftFields.Damaged();
            }

            ReadOnlySpan<byte> run = bytes[..(int)size];
            long own = Math.Min(numbers, wanted - count);
            greatest += same ? own * Checked(Bits(run, 0, size * 8), most) : Greatest(run, width, own, most);
            count += own;
            bytes = bytes[(int)size..];
        }

        return bytes.IsEmpty ? greatest : throw ThriftFields.Damaged();
    }

    /// <summary>A number of some bits, the lowest first.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="at">Its first bit.</param>
    /// <param name="width">How many bits; 64 at most.</param>
    public static ulong Bits(ReadOnlySpan<byte> bytes, long at, long width)
    {
        ulong value = 0;
        for (int got = 0; got < width;)
        {
            int inByte = (int)((at + got) & 7);
            int take = (int)Math.Min(8 - inByte, width - got);
            value |= (((ulong)bytes[(int)((at + got) >> 3)] >> inByte) & ((1UL << take) - 1)) << got;
            got += take;
        }

        return value;
    }

    private static long Greatest(ReadOnlySpan<byte> run, int width, long numbers, long most)
    {
        long greatest = 0;
        for (long i = 0; i < numbers; i++)
        {
            greatest += Checked(Bits(run, i * width, width), most);
        }

        return greatest;
    }

    private static int Checked(ulong number, long most) =>
        most >= 0 && number <= (ulong)most ? (number == (ulong)most ? 1 : 0) : throw ThriftFields.Damaged();
}
