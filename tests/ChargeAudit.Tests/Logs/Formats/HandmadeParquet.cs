using System.Buffers.Binary;
using System.Text;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>A Parquet file of 20 rows put together byte by byte from the format's definition: seconds from 0 on, and powers of which every
/// part can be said otherwise than it is.</summary>
internal sealed record HandmadeParquet
{
    public const int Rows = 20;
    private const int Double = 5;
    private const int Optional = 1;

    /// <summary>Bytes of the levels, without their length: so many runs of as many rows that are there or not.</summary>
    public byte[] Levels { get; init; } = Runs((19, 1), (1, 0));

    /// <summary>Bytes of the values.</summary>
    public byte[] Values { get; init; } = Doubles(19);

    /// <summary>Number of their encoding.</summary>
    public int Encoding { get; init; }

    /// <summary>The values of a dictionary, if there is one.</summary>
    public double[]? Dictionary { get; init; }

    /// <summary>Whether the page is of the second version.</summary>
    public bool IsSecond { get; init; }

    /// <summary>How many values are missing, as the page of the second version says and the footer.</summary>
    public int Missing { get; init; } = 1;

    /// <summary>What the levels' length says, beyond what they are. [byte]</summary>
    public int LevelsLonger { get; init; }

    /// <summary>Number of the encoding of the levels.</summary>
    public int LevelEncoding { get; init; } = 3;

    /// <summary>The sum that the page names.</summary>
    public int? Sum { get; init; }

    /// <summary>Name and physical type that the row group gives the powers.</summary>
    public (string Name, int Type) Chunk { get; init; } = ("power_W", Double);

    /// <summary>Runs of levels of one bit.</summary>
    public static byte[] Runs(params (int Rows, byte Level)[] runs) =>
        [.. runs.SelectMany(r => (byte[])[.. Varint((ulong)r.Rows << 1), r.Level])];

    /// <summary>As many powers of 4.5 W, plainly.</summary>
    public static byte[] Doubles(int count) => Plain(Enumerable.Repeat(4.5, count));

    /// <summary>The file.</summary>
    public byte[] Bytes()
    {
        using var file = new MemoryStream();
        file.Write("PAR1"u8);
        long times = file.Position;
        byte[] seconds = Plain(Enumerable.Range(0, Rows).Select(i => (double)i));
        file.Write([.. Head(0, seconds.Length, null, Struct((1, Rows), (2, 0), (3, 3), (4, 3))), .. seconds]);
        long powers = file.Position;
        if (Dictionary is not null)
        {
            byte[] words = Plain(Dictionary);
            file.Write([.. Head(2, words.Length, null, Struct((1, Dictionary.Length), (2, 0))), .. words]);
        }

        long data = file.Position;
        byte[] sized = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(sized, Levels.Length + LevelsLonger);
        byte[] page = [.. IsSecond ? [] : sized, .. Levels, .. Values];
        file.Write([.. Head(IsSecond ? 3 : 0, page.Length, Sum, IsSecond
            ? Struct((1, Rows), (2, Missing), (3, Rows), (4, Encoding), (5, Levels.Length + LevelsLonger), (6, 0))
            : Struct((1, Rows), (2, Encoding), (3, LevelEncoding), (4, 3))), .. page]);
        byte[] footer =
        [
            .. Field(0, 1, 5, Zigzag(1)),
            .. Field(1, 2, 9,
            [
                0x3C,
                .. Element("root", null, null, 2), .. Element("time_s", Double, 0, null),
                .. Element("power_W", Double, Optional, null),
            ]),
            .. Field(2, 3, 6, Zigzag(Rows)),
            .. Field(3, 4, 9,
            [
                0x1C,
                .. Field(0, 1, 9,
                [
                    0x2C,
                    .. ChunkOf("time_s", Double, times, times, powers - times, null),
                    .. ChunkOf(Chunk.Name, Chunk.Type, data, Dictionary is null ? data : powers, file.Position - powers, Missing),
                ]),
                .. Field(1, 2, 6, Zigzag(file.Position)), .. Field(2, 3, 6, Zigzag(Rows)), 0,
            ]),
            0,
        ];
        file.Write(footer);
        byte[] length = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(length, footer.Length);
        file.Write([.. length, .. "PAR1"u8]);
        return file.ToArray();
    }

    private static byte[] ChunkOf(string name, int type, long data, long from, long length, int? missing) =>
    [
        .. Field(0, 2, 6, Zigzag(from)),
        .. Field(2, 3, 12,
        [
            .. Field(0, 1, 5, Zigzag(type)), .. Field(1, 2, 9, [0x15, .. Zigzag(0)]), .. Field(2, 3, 9, [0x18, .. Text(name)]),
            .. Field(3, 4, 5, Zigzag(0)), .. Field(4, 5, 6, Zigzag(Rows)), .. Field(5, 6, 6, Zigzag(length)),
            .. Field(6, 7, 6, Zigzag(length)), .. Field(7, 9, 6, Zigzag(data)),
            .. from < data ? Field(9, 11, 6, Zigzag(from)) : [],
            .. missing is int m ? Field(from < data ? 11 : 9, 12, 12, [.. Field(0, 3, 6, Zigzag(m)), 0]) : [],
            0,
        ]),
        0,
    ];

    private static byte[] Element(string name, int? type, int? repetition, int? children) =>
    [
        .. type is int t ? Field(0, 1, 5, Zigzag(t)) : [],
        .. repetition is int r ? Field(type is null ? 0 : 1, 3, 5, Zigzag(r)) : [],
        .. Field(repetition is null ? 0 : 3, 4, 8, Text(name)),
        .. children is int c ? Field(4, 5, 5, Zigzag(c)) : [],
        0,
    ];

    private static byte[] Head(int kind, int length, int? sum, byte[] inner) =>
    [
        .. Struct((1, kind), (2, length), (3, length))[..^1],
        .. sum is int s ? Field(3, 4, 5, Zigzag(s)) : [],
        .. Field(sum is null ? 3 : 4, kind == 0 ? 5 : kind == 2 ? 7 : 8, 12, inner),
        0,
    ];

    private static byte[] Struct(params (int Id, long Value)[] fields) =>
        [.. fields.SelectMany((f, i) => Field(i == 0 ? 0 : fields[i - 1].Id, f.Id, 5, Zigzag(f.Value))), 0];

    private static byte[] Field(int before, int id, int type, byte[] value) => [(byte)(((id - before) << 4) | type), .. value];

    private static byte[] Text(string text) => [.. Varint((ulong)text.Length), .. System.Text.Encoding.ASCII.GetBytes(text)];

    private static byte[] Zigzag(long value) => Varint(unchecked(((ulong)value << 1) ^ (ulong)(value >> 63)));

    private static byte[] Varint(ulong value) => value < 0x80 ? [(byte)value] : [(byte)((value & 0x7F) | 0x80), .. Varint(value >> 7)];

    private static byte[] Plain(IEnumerable<double> values) => [.. values.SelectMany(BitConverter.GetBytes)];
}
