using System.Buffers;
using System.Text;

namespace ChargeAudit.Logs.Streams;

/// <summary>Lines of a UTF-8 text, none longer than a bound, so that memory stays flat whatever the text holds.</summary>
internal static class BoundedLines
{
    /// <summary>The longest line that is read. [B]</summary>
    public const int Longest = 1 << 20;

    private static readonly SearchValues<byte> Ends = SearchValues.Create("\r\n"u8);

    /// <summary>Reads a text line by line. CR, LF and CR LF end a line.</summary>
    /// <param name="path">Name of the log, for messages.</param>
    /// <param name="text">The text.</param>
    public static IEnumerable<string> Read(string path, Stream text)
    {
        byte[] block = new byte[1 << 16];
        var line = new ArrayBufferWriter<byte>();
        long number = 1;
        bool afterCr = false;
        int read;
        while ((read = text.Read(block, 0, block.Length)) > 0)
        {
            int at = 0;
            while (at < read)
            {
                if (afterCr && block[at] == '\n')
                {
                    at++;
                }

                afterCr = false;
                int length = block.AsSpan(at, read - at).IndexOfAny(Ends);
                line.Write(block.AsSpan(at, length < 0 ? read - at : length));
                if (line.WrittenCount > Longest)
                {
                    throw LogErrors.LineTooLong(path, number, Longest);
                }

                if (length < 0)
                {
                    break;
                }

                afterCr = block[at + length] == '\r';
                at += length + 1;
                string whole = Encoding.UTF8.GetString(line.WrittenSpan);
                line.ResetWrittenCount();
                yield return number++ == 1 ? whole.TrimStart('\uFEFF') : whole;
            }
        }

        if (line.WrittenCount > 0)
        {
            yield return Encoding.UTF8.GetString(line.WrittenSpan);
        }
    }
}
