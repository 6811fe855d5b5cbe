using System.Text;

namespace ChargeAudit.Logs.Streams;

/// <summary>Lines as a stream of UTF-8 bytes, made as they are asked for.</summary>
internal sealed class LineStream(IEnumerable<string> lines, CancellationToken cancellation) : Logs.Streams.ReadOnlyFilter(Null)
{
    private readonly IEnumerator<string> lines = lines.GetEnumerator();
    private byte[] current = [];
    private int at;

    public override int Read(Span<byte> buffer)
    {
        int written = 0;
        while (written < buffer.Length)
        {
            if (at == current.Length)
            {
                cancellation.ThrowIfCancellationRequested();
                if (!lines.MoveNext())
                {
                    break;
                }

                current = Encoding.UTF8.GetBytes(lines.Current + "\n");
                at = 0;
            }

            int count = Math.Min(current.Length - at, buffer.Length - written);
            current.AsSpan(at, count).CopyTo(buffer[written..]);
            at += count;
            written += count;
        }

        return written;
    }

    /// <summary>A field's text without what would end a field or a line.</summary>
    public static string Field(string text) => text.Replace('\t', ' ').Replace('\n', ' ').Replace('\r', ' ').Replace('"', '\'');

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            lines.Dispose();
        }

        base.Dispose(disposing);
    }
}
