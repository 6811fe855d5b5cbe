using System.Buffers.Binary;
using System.Text;

namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Walks through a structure in the compact protocol without building anything: nothing is allocated for what is claimed, only for what is
/// there. Whatever runs past the end, nests deeply or counts more than the bytes can hold is <see cref="InvalidDataException"/>.
/// </summary>
/// <remarks>*Source:* Apache Thrift, Thrift Compact protocol encoding (fields, zigzag integers, lists, structs).</remarks>
internal sealed class ThriftFields(ReadOnlyMemory<byte> bytes)
{
    private const int Deepest = 24;
    private const int Boolean = 2;
    private const int I64 = 6;
    private const int Binary = 8;
    private const int List = 9;
    private const int Struct = 12;

    // Bytes of a number, and of a length.
    private const int LongestVarint = 10;
    private const int LongestLength = 5;

    private int _depth;

    /// <summary>Bytes passed so far.</summary>
    public int At { get; private set; }

    private byte Next => At < bytes.Length ? bytes.Span[At++] : throw Damaged();

    /// <summary>A structure whose fields are of the kinds that they are by definition, at its beginning.</summary>
    /// <param name="bytes">Its bytes, and what follows them.</param>
    /// <param name="shape">Its fields.</param>
    public static ThriftFields Checked(ReadOnlyMemory<byte> bytes, ThriftShape shape)
    {
        new ThriftFields(bytes).Check(shape);
        return new ThriftFields(bytes);
    }

    private void Check(ThriftShape shape) => Walk((id, type) =>
    {
        if (shape.FieldOf(id) is not { } field)
        {
            return false;
        }

        Check(field, type);
        return true;
    });

    private void Check(ThriftShape.Field field, int type)
    {
        if (!field.Is(type))
        {
            throw Damaged();
        }

        if (field.Inner is { } inner)
        {
            Check(inner);
        }
        else if (field.Item is { } item)
        {
            int count = ReadListHead(out int items);
            for (int i = 0; i < count; i++)
            {
                Check(item, items);
            }
        }
        else
        {
            Skip(type);
        }
    }

    /// <summary>Walks through a struct.</summary>
    /// <param name="take">Told the number of each field; takes its value and says so, or leaves it.</param>
    /// <param name="untrue">Told the number of each truth value that is false.</param>
    public void ReadStruct(Func<int, bool> take, Action<int>? untrue = null) => Walk((id, type) =>
    {
        if (type == Boolean)
        {
            untrue?.Invoke(id);
        }

        return type > Boolean && take(id);
    });

    // Field by field, with number and kind; what is not taken is passed over.
    private void Walk(Func<int, int, bool> take)
    {
        if (++_depth > Deepest)
        {
            throw Damaged();
        }

        int id = 0;
        for (int head = Next; head != 0; head = Next)
        {
            int type = head & 15;
            id = head >> 4 is > 0 and int delta ? id + delta : checked((int)ReadInteger());
            if (!take(id, type))
            {
                Skip(type);
            }
        }

        _depth--;
    }

    /// <summary>Takes a list of structs.</summary>
    /// <param name="most">Greatest number of them.</param>
    /// <param name="take">Takes one.</param>
    public void ReadStructs(int most, Action take)
    {
        int count = ReadListHead(out int type);
        if (type != Struct || count > most)
        {
            throw Damaged();
        }

        for (int i = 0; i < count; i++)
        {
            take();
        }
    }

    /// <summary>Takes a text.</summary>
    public string ReadText() => Encoding.UTF8.GetString(TakeBytes());

    /// <summary>Takes a list of texts.</summary>
    public string[] ReadTexts()
    {
        int count = ReadListHead(out int type);
        return type == Binary ? [.. Enumerable.Range(0, count).Select(_ => ReadText())] : throw Damaged();
    }

    /// <summary>Takes a whole number.</summary>
    public long ReadInteger() => Signed(Varint(LongestVarint));

    private void Skip(int type)
    {
        switch (type)
        {
            case 1 or Boolean:
                break;
            case 3:
                At++;
                break;
            case >= 4 and <= I64:
                ReadInteger();
                break;
            case 7:
                At += 8;
                break;
            case Binary:
                TakeBytes();
                break;
            case List or 10:
                int count = ReadListHead(out int item);
                for (int i = 0; i < count; i++)
                {
                    // A truth value in a list takes a byte; as a field it is in the head.
                    Skip(item <= Boolean ? 3 : item);
                }

                break;
            case Struct:
                ReadStruct(_ => false);
                break;
            default:
                throw Damaged();
        }
    }

    // Every item of a list takes a byte at least.
    private int ReadListHead(out int type)
    {
        int head = Next;
        type = head & 15;
        long count = head >> 4 < 15 ? head >> 4 : ReadLength();
        return count <= bytes.Length - At ? (int)count : throw Damaged();
    }

    private long ReadLength() => (long)Varint(LongestLength);

    private ReadOnlySpan<byte> TakeBytes()
    {
        long length = ReadLength();
        At = length <= bytes.Length - At ? At + (int)length : throw Damaged();
        return bytes.Span[(At - (int)length)..At];
    }

    private ulong Varint(int longest)
    {
        ReadOnlySpan<byte> rest = At <= bytes.Length ? bytes.Span[At..] : throw Damaged();
        ulong value = ReadVarint(ref rest, longest);
        At = bytes.Length - rest.Length;
        return value;
    }

    /// <summary>A number whose lowest bit is its sign.</summary>
    public static long Signed(ulong value) => unchecked((long)(value >> 1) ^ -(long)(value & 1));

    /// <summary>Takes a number from the beginning of some bytes: seven bits a byte, the lowest first.</summary>
    /// <param name="bytes">The bytes; what follows the number stays.</param>
    /// <param name="longest">Bytes that it may take.</param>
    public static ulong ReadVarint(ref ReadOnlySpan<byte> bytes, int longest = LongestVarint)
    {
        ulong value = 0;
        for (int i = 0; i < bytes.Length && i < longest; i++)
        {
            value |= (ulong)(bytes[i] & 0x7F) << (7 * i);
            if (bytes[i] < 0x80)
            {
                bytes = bytes[(i + 1)..];
                return value;
            }
        }

        throw Damaged();
    }

    public static InvalidDataException Damaged() => new("its table of contents is damaged");

    /// <summary>The length of what is at the end of a file, before its mark.</summary>
    public static int LengthAt(ReadOnlySpan<byte> fourBytes) => BinaryPrimitives.ReadInt32LittleEndian(fourBytes);
}
