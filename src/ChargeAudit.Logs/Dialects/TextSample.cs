using System.Buffers;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using TextLine = System.ReadOnlyMemory<char>;

namespace ChargeAudit.Logs.Dialects;

/// <summary>A bounded first look at a text: its head, and short pieces from all over its body, each cut at line ends.</summary>
/// <param name="Encoding">Character encoding.</param>
/// <param name="Head">Lines from the first on.</param>
/// <param name="Pieces">Lines from the body, in order; the last piece ends with the file's end where that could be reached.</param>
internal sealed record TextSample(TextEncoding Encoding, IReadOnlyList<TextLine> Head, IReadOnlyList<IReadOnlyList<TextLine>> Pieces)
{
    private static readonly SearchValues<char> OddSigns = SearchValues.Create([.. Enumerable.Range(0, 256).Select(i => (char)i)
        .Where(c => char.IsControl(c) && c is not ('\t' or '\n' or '\r' or '\f' or '\u001A'))]);

    private const int HeadBytes = 1 << 16;
    private const int PieceBytes = 1 << 13;
    private const int PieceCount = 10;

    /// <summary>About how many lines the text has; rather too few than too many, and null where that cannot be told.</summary>
    public long? LinesAbout { get; private init; }

    // A packed text cannot be entered in the middle: so much of it is unpacked, a piece taken now and then.
    private const long MostUnpackedBytes = 1 << 25;

    /// <summary>Takes the sample.</summary>
    public static TextSample Take(LogSource source)
    {
        using Stream raw = source.OpenRaw();
        try
        {
            return Take(source, raw);
        }
        catch (IOException e)
        {
            throw LogErrors.Unreadable(source.Path, e);
        }
    }

    private static TextSample Take(LogSource source, Stream raw)
    {
        using Stream text = source.OpenText(raw);
        byte[] head = new byte[HeadBytes];
        int read = text.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (read == 0)
        {
            throw LogErrors.Empty(source.Path);
        }

        if (head.AsSpan().StartsWith("ARROW1\0\0"u8))
        {
            throw LogErrors.ArrowFile(source.Path);
        }

        bool whole = read < head.Length;
        TextEncoding encoding = source.Converts ? TextEncoding.Utf8 : TextEncodings.Detect(head.AsSpan(0, read));
        string decoded = encoding.Decode(head.AsSpan(0, read)).TrimStart('\uFEFF');
        if (IsBinary(decoded))
        {
            throw LogErrors.Binary(source.Path);
        }

        List<TextLine> lines = Lines(decoded, cutFirst: false, cutLast: !whole);
        List<IReadOnlyList<TextLine>> pieces = [];
        if (!whole && lines.Count == 0)
        {
            throw LogErrors.LineTooLong(source.Path, 1, HeadBytes);
        }

        if (!whole)
        {
            pieces = source.Converts || source.Packed ? TakeAlong(text, encoding) : TakeAcross(raw, encoding, read);
        }

        if (encoding == TextEncoding.Utf8 && pieces.Any(p => p.Any(l => l.Span.Contains('\uFFFD')))
            && !decoded.Any(c => c > 127))
        {
            encoding = TextEncoding.Latin1;
        }

        return new TextSample(encoding, lines, pieces)
        {
            LinesAbout = source.Converts || source.Packed ? null
                : whole ? lines.Count
                : raw.Length * pieces.Sum(p => p.Count) / (PieceCount * PieceBytes),
        };
    }

    private static List<IReadOnlyList<TextLine>> TakeAcross(Stream raw, TextEncoding encoding, int headLength)
    {
        List<IReadOnlyList<TextLine>> pieces = [];
        byte[] piece = new byte[PieceBytes];
        for (int i = 1; i <= PieceCount; i++)
        {
            // Even places keep the two halves of a UTF-16 character together.
            long from = headLength + ((raw.Length - headLength - PieceBytes) * i / PieceCount);
            raw.Position = Math.Max(headLength, from) & ~1L;
            int read = raw.ReadAtLeast(piece, piece.Length, throwOnEndOfStream: false);
            pieces.Add(Lines(encoding.Decode(piece.AsSpan(0, read)), cutFirst: true, cutLast: true));
        }

        return pieces;
    }

    private static List<IReadOnlyList<TextLine>> TakeAlong(Stream text, TextEncoding encoding)
    {
        List<IReadOnlyList<TextLine>> pieces = [];
        byte[] piece = new byte[PieceBytes];
        byte[] between = new byte[1 << 20];
        for (long done = HeadBytes; done < MostUnpackedBytes; done += PieceBytes + between.Length)
        {
            int read = text.ReadAtLeast(piece, piece.Length, throwOnEndOfStream: false);
            pieces.Add(Lines(encoding.Decode(piece.AsSpan(0, read)), cutFirst: true, cutLast: true));
            if (read < piece.Length || text.ReadAtLeast(between, between.Length, throwOnEndOfStream: false) < between.Length)
            {
                break;
            }
        }

        return pieces;
    }

    // The lines stay parts of the text: thousands of strings of their own would cost more than all that is done with them.
    private static List<TextLine> Lines(string text, bool cutFirst, bool cutLast)
    {
        text = text.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n');
        var lines = new List<TextLine>(text.AsSpan().Count('\n') + 1);
        for (int from = 0; from <= text.Length;)
        {
            int end = text.AsSpan(from).IndexOf('\n') is var length and >= 0 ? from + length : text.Length;
            lines.Add(text.AsMemory(from, end - from));
            from = end + 1;
        }

        if (cutLast || lines[^1].Length == 0)
        {
            lines.RemoveAt(lines.Count - 1);
        }

        if (cutFirst && lines.Count > 0)
        {
            lines.RemoveAt(0);
        }

        return lines;
    }

    // Text has no control characters but those that move along or to a new line; a damaged log may hold some.
    private static bool IsBinary(string text)
    {
        if (text.Length > 0 && !text.AsSpan().ContainsAny(OddSigns))
        {
            return false;
        }

        if (text.AsSpan().Trim('\0').IsEmpty)
        {
            return text.Length > 0;
        }

        int controls = 0;
        for (int i = 0; i < text.Length; i++)
        {
            // A run of zeros, as a power cut leaves it, counts once.
            char c = text[i];
            controls += OddSigns.Contains(c)
                && !(c == '\0' && i > 0 && text[i - 1] == '\0') ? 1 : 0;
        }

        return controls > 2 && controls > text.Length / 50;
    }
}
