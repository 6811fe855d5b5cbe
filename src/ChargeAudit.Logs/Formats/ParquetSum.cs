namespace ChargeAudit.Logs.Formats;

/// <summary>The sum that the head of a page may hold of the bytes behind it.</summary>
/// <remarks><i>Source:</i> Apache Parquet format, Checksumming; RFC 1952, 8 (the polynomial, its bits turned).</remarks>
internal static class ParquetSum
{
    private const uint Polynomial = 0xEDB88320;

    private static readonly uint[] OfByte = [.. Enumerable.Range(0, 256).Select(b =>
    {
        uint sum = (uint)b;
        for (int bit = 0; bit < 8; bit++)
        {
            sum = (sum & 1) == 0 ? sum >> 1 : (sum >> 1) ^ Polynomial;
        }

        return sum;
    })];

    /// <summary>The sum of bytes.</summary>
    /// <param name="bytes">The bytes.</param>
    public static uint Of(ReadOnlySpan<byte> bytes)
    {
        uint sum = uint.MaxValue;
        foreach (byte b in bytes)
        {
            sum = (sum >> 8) ^ OfByte[(sum & 0xFF) ^ b];
        }

        return ~sum;
    }
}
