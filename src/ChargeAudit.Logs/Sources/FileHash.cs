using System.Security.Cryptography;

namespace ChargeAudit.Logs.Sources;

/// <summary>SHA-256 of files and of ranges of them, in lower-case hexadecimal. A log that was read in parts is known by the hashes of its
/// parts in order, with a comma between them: the hash of the whole does not follow from them.</summary>
public static class FileHash
{
    private const char Between = ',';

    /// <summary>Hash of a file.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static string Sha256(string path)
    {
        using var file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    /// <summary>Hash of bytes.</summary>
    /// <param name="bytes">The bytes.</param>
    public static string Sha256(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>Hash of a range of a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="fromByte">Its first byte, from 0.</param>
    /// <param name="toByte">The byte after its last.</param>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static string Sha256(string path, long fromByte, long toByte)
    {
        using var file = File.OpenRead(path);
        using var range = new RangeStream(file, fromByte, toByte);
        return Convert.ToHexStringLower(SHA256.HashData(range));
    }

    /// <summary>Hash of a file that was read in parts.</summary>
    /// <param name="path">The file.</param>
    /// <param name="ends">Where the parts end; none where it was read whole. [byte]</param>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static string OfParts(string path, IReadOnlyList<long> ends)
    {
        ArgumentNullException.ThrowIfNull(ends);
        return ends.Count == 0 ? Sha256(path) : Joined(ends.Select((end, i) => Sha256(path, i == 0 ? 0 : ends[i - 1], end)));
    }

    /// <summary>The hashes of a log's parts as one text.</summary>
    /// <param name="parts">The hashes in order.</param>
    public static string Joined(IEnumerable<string> parts) => string.Join(Between, parts);
}
