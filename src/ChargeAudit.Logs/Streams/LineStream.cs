using System.Text;

namespace ChargeAudit.Logs.Streams;

/// <summary>Lines as a stream of UTF-8 bytes, made as they are asked for.</summary>
internal sealed class LineStream(IEnumerable<string> lines, CancellationToken cancellation) : Logs.Streams.ReadOnlyFilter(Null)
{
    private readonly IEnumerator<string> _lines = lines.GetEnumerator();
    private byte[] _current = [];
    private int _at;

    public override int Read(Span<byte> buffer)
    {
        int written = 0;
        while (written < buffer.Length)
        {
            if (_at == _current.Length)
            {
                cancellation.ThrowIfCancellationRequested();
                if (!_lines.MoveNext())
                {
                    break;
                }

                _current = Encoding.UTF8.GetBytes(_lines.Current + "\n");
                _at = 0;
            }

            int count = Math.Min(_current.Length - _at, buffer.Length - written);
            _current.AsSpan(_at, count).CopyTo(buffer[written..]);
            _at += count;
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
            _lines.Dispose();
        }

        base.Dispose(disposing);
    }
}
