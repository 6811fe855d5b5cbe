using System.IO.Compression;
using K4os.Compression.LZ4;
using Snappier;

namespace ChargeAudit.Logs.Formats;

/// <summary>Unpacks what a page of a Parquet file holds, to exactly the length that its head says.</summary>
/// <remarks><i>Source:</i> Apache Parquet format, Compression (numbers of the codecs).</remarks>
internal static class ParquetPacking
{
    /// <summary>Unpacks bytes.</summary>
    /// <param name="codec">How they are packed.</param>
    /// <param name="packed">The bytes.</param>
    /// <param name="from">The first that is meant.</param>
    /// <param name="count">How many are meant.</param>
    /// <param name="to">Room for as many as there should be.</param>
    /// <exception cref="InvalidDataException">They unpack to more or fewer.</exception>
    public static void Unpack(long codec, byte[] packed, int from, int count, Span<byte> to)
    {
        ReadOnlySpan<byte> bytes = packed.AsSpan(from, count);
        int length = codec switch
        {
            0 when count == to.Length => Copied(bytes, to),
            1 when Snappy.GetUncompressedLength(bytes) == to.Length => Snappy.Decompress(bytes, to),
            2 => Read(new GZipStream(new MemoryStream(packed, from, count), CompressionMode.Decompress), to),
            4 => Read(new BrotliStream(new MemoryStream(packed, from, count), CompressionMode.Decompress), to),
            // The library gives no length for what unpacks to nothing.
            5 or 7 => to.IsEmpty ? 0 : LZ4Codec.Decode(bytes, to),
            6 => Zstd(bytes, to),
            _ => -1,
        };
        if (length != to.Length)
        {
            throw ThriftFields.Damaged();
        }
    }

    private static int Copied(ReadOnlySpan<byte> bytes, Span<byte> to)
    {
        bytes.CopyTo(to);
        return bytes.Length;
    }

    private static int Zstd(ReadOnlySpan<byte> bytes, Span<byte> to)
    {
        using var unpacker = new ZstdSharp.Decompressor();
        return unpacker.Unwrap(bytes, to);
    }

    private static int Read(Stream unpacked, Span<byte> to)
    {
        using (unpacked)
        {
            int length = unpacked.ReadAtLeast(to, to.Length, throwOnEndOfStream: false);
            return unpacked.ReadByte() < 0 ? length : -1;
        }
    }
}
