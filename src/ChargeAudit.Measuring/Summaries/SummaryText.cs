using System.IO.Compression;
using System.Text;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>A long text as an entry of a file's metadata, which are not packed by themselves: its UTF-8 bytes by gzip, in Base64.</summary>
internal static class SummaryText
{
    // More than any log's state takes.
    private const int MostBytes = 16 << 20;

    /// <summary>The entry for a text.</summary>
    public static string Packed(string text)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            gzip.Write(Encoding.UTF8.GetBytes(text));
        }

        return Convert.ToBase64String(packed.GetBuffer().AsSpan(0, (int)packed.Length));
    }

    /// <summary>The text of an entry.</summary>
    /// <exception cref="InvalidDataException">It is damaged, or longer than any.</exception>
    /// <exception cref="FormatException">It is no Base64.</exception>
    public static string Unpacked(string entry)
    {
        using var gzip = new GZipStream(new MemoryStream(Convert.FromBase64String(entry)), CompressionMode.Decompress);
        using var text = new MemoryStream();
        byte[] block = new byte[1 << 14];
        for (int read = gzip.Read(block); read > 0; read = gzip.Read(block))
        {
            text.Write(block, 0, read);
            if (text.Length > MostBytes)
            {
                throw new InvalidDataException("its state is longer than that of any log");
            }
        }

        return Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length);
    }
}
