namespace ChargeAudit.Logs.Formats;

/// <summary>Goes through whole numbers that are written as differences, in blocks of packed bits.</summary>
/// <remarks><i>Source:</i> Apache Parquet format, Encodings: delta encoding (DELTA_BINARY_PACKED = 5).</remarks>
internal static class ParquetDifferences
{
    private const int MostInBlock = 1 << 20;

    /// <summary>Goes through them.</summary>
    /// <param name="bytes">The bytes; what follows the numbers stays.</param>
    /// <param name="wanted">How many numbers there must be.</param>
    /// <param name="tell">Told each number.</param>
    /// <exception cref="InvalidDataException">They are more or fewer, or run past the end.</exception>
    public static void Read(ref ReadOnlySpan<byte> bytes, long wanted, Action<long> tell)
    {
        long block = Counted(ref bytes);
        long parts = Counted(ref bytes);
        long count = Counted(ref bytes);
        long value = Signed(ref bytes);
        if (count != wanted || block is <= 0 or > MostInBlock || parts <= 0 || parts > block || block % (8 * parts) != 0)
        {
            throw ThriftFields.Damaged();
        }

        if (count > 0)
        {
            tell(value);
        }

        int each = (int)(block / parts);
        for (long left = count - 1; left > 0;)
        {
            long least = Signed(ref bytes);
            ReadOnlySpan<byte> widths = Taken(ref bytes, parts);
            for (int part = 0; part < widths.Length && left > 0; part++)
            {
                int width = widths[part] <= 64 ? widths[part] : throw ThriftFields.Damaged();
                ReadOnlySpan<byte> packed = Taken(ref bytes, each / 8 * (long)width);
                for (int i = 0; i < each && left > 0; i++, left--)
                {
                    value = unchecked(value + least + (long)ParquetRuns.Bits(packed, (long)i * width, width));
                    tell(value);
                }
            }
        }
    }

    private static long Counted(ref ReadOnlySpan<byte> bytes) =>
        ThriftFields.ReadVarint(ref bytes) is var number && number <= int.MaxValue ? (long)number : throw ThriftFields.Damaged();

    private static long Signed(ref ReadOnlySpan<byte> bytes) => ThriftFields.Signed(ThriftFields.ReadVarint(ref bytes));

    private static ReadOnlySpan<byte> Taken(scoped ref ReadOnlySpan<byte> bytes, long count)
    {
        ReadOnlySpan<byte> taken = count <= bytes.Length ? bytes[..(int)count] : throw ThriftFields.Damaged();
        bytes = bytes[(int)count..];
        return taken;
    }
}
