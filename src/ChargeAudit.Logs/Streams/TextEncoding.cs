using System.Text;
using System.Text.Unicode;

namespace ChargeAudit.Logs.Streams;

/// <summary>Character encodings that logs come in.</summary>
internal enum TextEncoding
{
    Utf8,
    Utf16LittleEndian,
    Utf16BigEndian,
    Latin1,
}

/// <summary>Tells a text's encoding from its first bytes.</summary>
internal static class TextEncodings
{
    /// <summary>Decides by byte-order mark, then by the places of zero bytes, then by whether the bytes are valid UTF-8.</summary>
    public static TextEncoding Detect(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith("\uFEFF"u8))
        {
            return TextEncoding.Utf8;
        }

        if (head.Length >= 2 && head[0] == 0xFF && head[1] == 0xFE)
        {
            return TextEncoding.Utf16LittleEndian;
        }

        if (head.Length >= 2 && head[0] == 0xFE && head[1] == 0xFF)
        {
            return TextEncoding.Utf16BigEndian;
        }

        (int even, int odd) = CountZeros(head);
        int pairs = head.Length / 2;
        if (pairs >= 4 && odd > 0.7 * pairs && even < 0.1 * pairs)
        {
            return TextEncoding.Utf16LittleEndian;
        }

        if (pairs >= 4 && even > 0.7 * pairs && odd < 0.1 * pairs)
        {
            return TextEncoding.Utf16BigEndian;
        }

        return Utf8.IsValid(Utf8Edges.Trim(head)) || HoldsUtf8(head) ? TextEncoding.Utf8 : TextEncoding.Latin1;
    }

    /// <summary>Name for people.</summary>
    public static string Name(this TextEncoding encoding) => encoding switch
    {
        TextEncoding.Utf8 => "UTF-8",
        TextEncoding.Utf16LittleEndian => "UTF-16 LE",
        TextEncoding.Utf16BigEndian => "UTF-16 BE",
        _ => "Latin-1",
    };

    /// <summary>A stream of UTF-8 from one of this encoding.</summary>
    public static Stream ToUtf8(this TextEncoding encoding, Stream inner) => encoding switch
    {
        TextEncoding.Utf8 => inner,
        TextEncoding.Utf16LittleEndian => Encoding.CreateTranscodingStream(inner, Encoding.Unicode, Encoding.UTF8),
        TextEncoding.Utf16BigEndian => Encoding.CreateTranscodingStream(inner, Encoding.BigEndianUnicode, Encoding.UTF8),
        _ => Encoding.CreateTranscodingStream(inner, Encoding.Latin1, Encoding.UTF8),
    };

    /// <summary>Text of a block that begins on a character.</summary>
    public static string Decode(this TextEncoding encoding, ReadOnlySpan<byte> block) => encoding switch
    {
        TextEncoding.Utf8 => Encoding.UTF8.GetString(block),
        TextEncoding.Utf16LittleEndian => Encoding.Unicode.GetString(block),
        TextEncoding.Utf16BigEndian => Encoding.BigEndianUnicode.GetString(block),
        _ => Encoding.Latin1.GetString(block),
    };

    private static (int Even, int Odd) CountZeros(ReadOnlySpan<byte> head)
    {
        int even = 0;
        int odd = 0;
        for (int i = 0; i < head.Length; i++)
        {
            if (head[i] == 0)
            {
                _ = (i & 1) == 0 ? even++ : odd++;
            }
        }

        return (even, odd);
    }

    // Damaged UTF-8 still shows whole multi-byte characters; Latin-1 practically never forms one by chance.
    private static bool HoldsUtf8(ReadOnlySpan<byte> head)
    {
        for (int i = 0; i + 1 < head.Length; i++)
        {
            if (head[i] is >= 0xC2 and <= 0xF4 && (head[i + 1] & 0xC0) == 0x80)
            {
                return true;
            }
        }

        return false;
    }
}
