using System.Buffers.Binary;
using ChargeAudit.LogMaker;

namespace ChargeAudit.Tests.Reach;

/// <summary>
/// Changes what a Parquet file says of itself and leaves its form whole: numbers, lengths and counts in the footer and in the heads of the
/// pages (Thrift's compact protocol), so that the file is believed further than one with a flipped byte.
/// </summary>
internal static class ParquetMutator
{
    private const int MostDepth = 24;

    private static readonly long[] Hostile =
    [
        0, 1, 2, 3, -1, -2, 7, 15, 16, 63, 64, 127, 128, 255, 256, 4096, 65535, 65536, 1 << 20, 1 << 24, (1 << 30) - 1, int.MaxValue,
            int.MinValue, uint.MaxValue, 1L << 40, long.MaxValue, long.MinValue,
    ];

    private enum LeafKind
    {
        Signed,
        Length,
        List,
        Byte,
    }

    /// <summary>One to four changes.</summary>
    public static byte[] Change(byte[] file, Dice dice)
    {
        int changes = 1 + (int)(dice.Unit() * dice.Unit() * 4);
        for (int i = 0; i < changes; i++)
        {
            file = One(file, dice);
        }

        return file;
    }

    private static byte[] One(byte[] file, Dice dice)
    {
        int footer = file.Length < 12 ? -1 : file.Length - 8 - BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(file.Length - 8));
        if (footer < 4 || footer >= file.Length - 8)
        {
            return file;
        }

        var heads = Heads(file, footer);
        bool inFooter = heads.Count == 0 || dice.Chance(0.5);
        var walk = new Walk(file, inFooter ? footer : dice.Of(heads.ToArray()), inFooter ? file.Length - 8 : footer);
        walk.Struct(0);
        if (walk.Leaves.Count == 0)
        {
            return file;
        }

        var leaf = dice.Of(walk.Leaves.ToArray());
        byte[] written = Written(file, leaf, dice);

        // Pages stand at the places that the footer names: there a number keeps its bytes where it can.
        if (!inFooter && leaf.Kind is LeafKind.Signed or LeafKind.Length && written.Length < leaf.Length)
        {
            written = Padded(written, leaf.Length);
        }

        byte[] changed = [.. file[..leaf.At], .. written, .. file[(leaf.At + leaf.Length)..]];
        if (inFooter)
        {
            BinaryPrimitives.WriteInt32LittleEndian(changed.AsSpan(changed.Length - 8), changed.Length - 8 - footer);
        }

        return changed;
    }

    // Every page is followed by the next: its head says how long it is.
    private static List<int> Heads(byte[] file, int footer)
    {
        var heads = new List<int>();
        int at = 4;
        while (at < footer)
        {
            var walk = new Walk(file, at, footer);
            walk.Struct(0);
            if (walk.Broken || walk.PageBytes < 0 || walk.PageBytes > footer - walk.At)
            {
                break;
            }

            heads.Add(at);
            at = walk.At + (int)walk.PageBytes;
        }

        return heads;
    }

    private static byte[] Written(byte[] file, Leaf leaf, Dice dice)
    {
        if (leaf.Kind == LeafKind.Byte)
        {
            return [(byte)(dice.Unit() * 256)];
        }

        if (leaf.Kind == LeafKind.List)
        {
            int type = file[leaf.At] & 0xF;
            return dice.Chance(0.7)
                ? [(byte)(((int)(dice.Unit() * 15) << 4) | type)]
                : [(byte)(0xF0 | type), .. Varint(unchecked((ulong)dice.Of(Hostile)))];
        }

        ulong before = Read(file, leaf.At);
        long value = leaf.Kind == LeafKind.Signed ? unchecked((long)(before >> 1) ^ -(long)(before & 1)) : unchecked((long)before);
        value = (int)(dice.Unit() * 6) switch
        {
            0 => unchecked(value + 1),
            1 => unchecked(value - 1),
            2 => unchecked(value * 2),
            3 => unchecked(-value),
            _ => dice.Of(Hostile),
        };
        return Varint(leaf.Kind == LeafKind.Signed ? unchecked(((ulong)value << 1) ^ (ulong)(value >> 63)) : unchecked((ulong)value));
    }

    private static byte[] Varint(ulong value)
    {
        var bytes = new List<byte>();
        for (; value > 0x7F; value >>= 7)
        {
            bytes.Add((byte)((value & 0x7F) | 0x80));
        }

        return [.. bytes, (byte)value];
    }

    private static byte[] Padded(byte[] varint, int length)
    {
        varint[^1] |= 0x80;
        return [.. varint, .. Enumerable.Repeat((byte)0x80, length - varint.Length - 1), 0];
    }

    private static ulong Read(byte[] file, int at)
    {
        ulong value = 0;
        for (int shift = 0; at < file.Length && shift < 64; shift += 7, at++)
        {
            value |= (ulong)(file[at] & 0x7F) << shift;
            if (file[at] < 0x80)
            {
                break;
            }
        }

        return value;
    }

    private readonly record struct Leaf(int At, int Length, LeafKind Kind);

    // Goes through one structure and notes where its numbers stand.
    private sealed class Walk(byte[] file, int at, int end)
    {
        public List<Leaf> Leaves { get; } = [];

        public int At { get; private set; } = at;

        public bool Broken { get; private set; }

        /// <summary>Field 3 of the outermost structure: of a page's head, how many bytes follow.</summary>
        public long PageBytes { get; private set; } = -1;

        public void Struct(int depth)
        {
            int field = 0;
            while (!Broken && depth < MostDepth)
            {
                int head = Byte();
                if (head == 0 || Broken)
                {
                    return;
                }

                field = head >> 4 == 0 ? unchecked((int)Varint(LeafKind.Signed)) >> 1 : field + (head >> 4);
                ulong value = Value(head & 0xF, depth);
                PageBytes = depth == 0 && field == 3 ? (long)(value >> 1) : PageBytes;
            }

            Broken = true;
        }

        private ulong Value(int type, int depth)
        {
            switch (type)
            {
                case 1 or 2:
                    return 0;
                case 3:
                    Leaves.Add(new Leaf(At, 1, LeafKind.Byte));
                    return (ulong)Byte();
                case 4 or 5 or 6:
                    return Varint(LeafKind.Signed);
                case 7:
                    Skip(8);
                    return 0;
                case 8:
                    Skip(unchecked((long)Varint(LeafKind.Length)));
                    return 0;
                case 9 or 10:
                    List(depth);
                    return 0;
                case 12:
                    Struct(depth + 1);
                    return 0;
                default:
                    Broken = true;
                    return 0;
            }
        }

        private void List(int depth)
        {
            int from = At;
            int head = Byte();
            long count = head >> 4 == 15 ? unchecked((long)Varint(null)) : head >> 4;
            Leaves.Add(new Leaf(from, At - from, LeafKind.List));
            for (long i = 0; i < count && !Broken; i++)
            {
                // A truth in a list is a byte of its own.
                Value((head & 0xF) is 1 or 2 ? 3 : head & 0xF, depth);
            }
        }

        private ulong Varint(LeafKind? kind)
        {
            int from = At;
            while (!Broken && Byte() >= 0x80)
            {
            }

            if (kind is { } known)
            {
                Leaves.Add(new Leaf(from, At - from, known));
            }

            return Read(file, from);
        }

        private void Skip(long count)
        {
            Broken |= count < 0 || count > end - At;
            At += Broken ? 0 : (int)count;
        }

        private int Byte()
        {
            Broken |= At >= end;
            return Broken ? 0 : file[At++];
        }
    }
}
