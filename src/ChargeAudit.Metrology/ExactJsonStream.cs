namespace ChargeAudit.Metrology;

/// <summary>Passes a JSON document in UTF-8 on, piece by piece, with each mark of a <see cref="WrittenForm"/> replaced by what it stands
/// for in files for programs.</summary>
internal sealed class ExactJsonStream(Stream to, Func<char, string> exact) : Stream
{
    // The writer puts marks as \uFDD0; in UTF-8 the same is three bytes.
    private const int EscapedLength = 6, PlainLength = 3;
    private const byte Escape = (byte)'\\', PlainFirst = 0xEF, PlainSecond = 0xB7, PlainThird = 0x90;
    private const char First = '\uFDD0';
    private const int Marks = 5;

    private byte[] _held = [];

    public override bool CanRead => false;

    public override bool CanSeek => false;

    public override bool CanWrite => true;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override void Write(ReadOnlySpan<byte> buffer)
    {
        var rest = _held.Length > 0 ? [.. _held, .. buffer] : buffer;
        _held = [];
        while (rest.Length > 0)
        {
            int plain = rest.IndexOfAny(Escape, PlainFirst);
            if (plain != 0)
            {
                plain = plain < 0 ? rest.Length : plain;
                to.Write(rest[..plain]);
                rest = rest[plain..];
                continue;
            }

            // A reversed solidus of a text is doubled, so what follows one tells how many bytes belong to it.
            int length = rest[0] == PlainFirst ? PlainLength : rest.Length < 2 || rest[1] == (byte)'u' ? EscapedLength : 2;
            if (rest.Length < length)
            {
                _held = rest.ToArray();
                return;
            }

            if (MarkAt(rest[..length]) is { } mark)
            {
                to.Write(System.Text.Encoding.UTF8.GetBytes(exact(mark)));
            }
            else
            {
                to.Write(rest[..length]);
            }

            rest = rest[length..];
        }
    }

    public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

    public override void Flush() => to.Flush();

    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        to.Write(_held);
        _held = [];
        base.Dispose(disposing);
    }

    private static char? MarkAt(ReadOnlySpan<byte> bytes)
    {
        int number = bytes.Length switch
        {
            PlainLength => bytes[1] == PlainSecond ? bytes[2] - PlainThird : -1,
            EscapedLength => System.Text.Ascii.EqualsIgnoreCase(bytes[2..5], "fdd"u8) ? bytes[5] - (byte)'0' : -1,
            _ => -1,
        };
        return number is >= 0 and < Marks ? (char)(First + number) : null;
    }
}
