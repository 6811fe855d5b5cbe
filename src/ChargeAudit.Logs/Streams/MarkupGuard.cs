using System.Text;

namespace ChargeAudit.Logs.Streams;

/// <summary>
/// Passes the characters of a markup document on to its reader and refuses what would make that hoard or crawl: a name, tag or text that
/// never ends, a tag of very many attributes (they are compared each with each), elements within elements without end. What a reader holds
/// at a time is so bounded before it is held.
/// </summary>
/// <param name="inner">The characters; disposed of with this.</param>
/// <param name="path">Name for messages.</param>
/// <remarks>*Source:* W3C, Extensible Markup Language 1.0, 2.4 to 2.8 and 3.1 (where tags, comments, CDATA sections and processing
/// instructions begin and end).</remarks>
internal sealed class MarkupGuard(TextReader inner, string path) : TextReader
{
    /// <summary>Longest text, comment or section. A cell of a worksheet holds 32767 characters; some take several when written as
    /// references. [char]</summary>
    public const int LongestText = 1 << 18;

    /// <summary>Longest tag. [char]</summary>
    public const int LongestTag = 1 << 16;

    private const int MostAttributes = 256;
    private const int DeepestElement = 256;

    private State _state;
    private int _length;
    private int _attributes;
    private int _depth;
    private char _last;
    private char _beforeLast;

    private enum State
    {
        Text,
        Opened,
        Tag,
        DoubleQuoted,
        SingleQuoted,
        EndTag,
        Declaration,
        Comment,
        CharacterData,
        Instruction,
    }

    /// <summary>Characters passed on so far.</summary>
    public long Count { get; private set; }

    /// <summary>The characters of a stored document: in the encoding that its first bytes show, which is UTF-8 unless they show
    /// another.</summary>
    /// <param name="stream">The bytes from the first on; left open.</param>
    /// <param name="path">Name for messages.</param>
    public static MarkupGuard Of(Stream stream, string path)
    {
        byte[] head = new byte[256];
        int read = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        return new MarkupGuard(new StreamReader(new HeadStream(head.AsMemory(0, read), stream), Encoded(head.AsSpan(0, read)),
            detectEncodingFromByteOrderMarks: true, bufferSize: 1 << 14, leaveOpen: true), path);
    }

    public override int Read(char[] buffer, int index, int count) => Read(buffer.AsSpan(index, count));

    public override int Read(Span<char> buffer)
    {
        int read = inner.Read(buffer);
        Look(buffer[..read]);
        return read;
    }

    public override int Read()
    {
        Span<char> one = [default];
        return Read(one) == 1 ? one[0] : -1;
    }

    public override int Peek() => inner.Peek();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            inner.Dispose();
        }

        base.Dispose(disposing);
    }

    private static Encoding Encoded(ReadOnlySpan<byte> head)
    {
        if (head.Length >= 4 && head[1] == 0 && head[3] == 0)
        {
            return Encoding.Unicode;
        }

        if (head.Length >= 4 && head[0] == 0 && head[2] == 0)
        {
            return Encoding.BigEndianUnicode;
        }

        string declared = Encoding.ASCII.GetString(head[..Math.Max(0, head.IndexOf((byte)'>'))]);
        return declared.Contains("8859-1", StringComparison.Ordinal) || declared.Contains("1252", StringComparison.Ordinal)
            ? Encoding.Latin1
            : Encoding.UTF8;
    }

    private void Look(ReadOnlySpan<char> block)
    {
        Count += block.Length;
        foreach (char c in block)
        {
            Take(c);
            (_beforeLast, _last) = (_last, c);
        }
    }

    private void Take(char c)
    {
        if (++_length > (_state is State.Tag or State.DoubleQuoted or State.SingleQuoted or State.EndTag or State.Opened
            ? LongestTag
            : LongestText))
        {
            throw LogErrors.MarkupTooLarge(path, "a name, tag or text longer than", _state is State.Text or State.Comment
                or State.CharacterData or State.Instruction ? LongestText : LongestTag, "characters");
        }

        switch (_state)
        {
            case State.Text when c == '<':
                Go(State.Opened);
                break;
            case State.Opened:
                _attributes = 0;
                _state = c switch { '/' => State.EndTag, '!' => State.Declaration, '?' => State.Instruction, _ => State.Tag };
                break;
            case State.Tag when c is '"' or '\'':
                _state = c == '"' ? State.DoubleQuoted : State.SingleQuoted;
                if (++_attributes > MostAttributes)
                {
                    throw LogErrors.MarkupTooLarge(path, "an element of more than", MostAttributes, "attributes");
                }

                break;
            case State.Tag when c == '>':
                _depth += _last == '/' ? 0 : 1;
                if (_depth > DeepestElement)
                {
                    throw LogErrors.MarkupTooLarge(path, "elements nested deeper than", DeepestElement, "levels");
                }

                Go(State.Text);
                break;
            case State.DoubleQuoted when c == '"':
            case State.SingleQuoted when c == '\'':
                _state = State.Tag;
                break;
            case State.EndTag when c == '>':
                _depth--;
                Go(State.Text);
                break;
            case State.Declaration when _last == '!' && c == '[':
                Go(State.CharacterData);
                break;
            case State.Declaration when _last == '-' && c == '-':
                Go(State.Comment);
                break;
            case State.Declaration when c == '>':
            case State.Comment when c == '>' && _length >= 3 && _last == '-' && _beforeLast == '-':
            case State.CharacterData when c == '>' && _last == ']' && _beforeLast == ']':
            case State.Instruction when c == '>' && _last == '?':
                Go(State.Text);
                break;
            default:
                break;
        }
    }

    private void Go(State state) => (_state, _length) = (state, 0);

    /// <summary>A stream whose first bytes have been looked at already.</summary>
    private sealed class HeadStream(ReadOnlyMemory<byte> head, Stream rest) : ReadOnlyFilter(Null)
    {
        private ReadOnlyMemory<byte> _head = head;

        public override int Read(Span<byte> buffer)
        {
            if (_head.Length == 0)
            {
                return rest.Read(buffer);
            }

            int count = Math.Min(buffer.Length, _head.Length);
            _head.Span[..count].CopyTo(buffer);
            _head = _head[count..];
            return count;
        }
    }
}
