using System.Text;
using System.Text.Unicode;

namespace ChargeAudit.Logs.Streams;

/// <summary>
/// Notices bytes that are not UTF-8 text, at the cost of one vectorised look at each block. It only raises a flag: the row reader,
/// which knows the lines, then looks at each row.
/// </summary>
internal sealed class TextCheckStream(Stream inner) : ReadOnlyFilter(inner)
{
    /// <summary>Whether a byte that is not text has been seen in what was read so far.</summary>
    public bool Dirty { get; private set; }

    public override int Read(Span<byte> buffer)
    {
        int read = Inner.Read(buffer);
        ReadOnlySpan<byte> block = buffer[..read];
        if (!Dirty && (!Ascii.IsValid(block) || block.Contains((byte)0)))
        {
            // A block's first and last character may be cut in two, which is not a fault; the row reader settles it.
            Dirty = block.Contains((byte)0) || !Utf8.IsValid(Utf8Edges.Trim(block));
        }

        return read;
    }
}
