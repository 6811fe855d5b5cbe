using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Finds the bytes between which the numbers are (field separators, decimal separators, line ends) sixteen at a time, before any number is
/// read: each number can then be read without waiting for the end of the one before.
/// </summary>
internal sealed class Marks(byte separator, byte decimalMark)
{
    /// <summary>Bytes looked at in one go; as many may be read after the text.</summary>
    public const int Block = 64;

    // Positions are written in groups, and the last group may be cut.
    private const int Group = 8;

    private int[] _places = [];

    /// <summary>Finds the marks of a stretch of text.</summary>
    /// <param name="text">The text, with at least <see cref="Block"/> bytes after the stretch that may hold anything.</param>
    /// <param name="from">Start of the stretch.</param>
    /// <param name="to">End of the stretch.</param>
    /// <returns>Places of the marks, rising.</returns>
    public ReadOnlySpan<int> Find(ReadOnlySpan<byte> text, int from, int to)
    {
        int most = to - from + Block + Group;
        _places = _places.Length < most ? new int[most] : _places;
        Span<int> found = _places;
        int count = 0;
        for (int at = from; at < to; at += Block)
        {
            ulong bits = Bits(text.Slice(at, Block));
            int next = count;
            count += BitOperations.PopCount(bits);
            do
            {
                Span<int> group = found.Slice(next, Group);
                for (int i = 0; i < Group; i++)
                {
                    group[i] = at + BitOperations.TrailingZeroCount(bits);
                    bits &= unchecked(bits - 1);
                }

                next += Group;
            }
            while (bits != 0);
        }

        while (count > 0 && found[count - 1] >= to)
        {
            count--;
        }

        return found[..count];
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ulong Bits(ReadOnlySpan<byte> block) =>
        Bits16(block) | ((ulong)Bits16(block[16..]) << 16) | ((ulong)Bits16(block[32..]) << 32) | ((ulong)Bits16(block[48..]) << 48);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private uint Bits16(ReadOnlySpan<byte> bytes)
    {
        var text = Vector128.Create(bytes);
        return (Vector128.Equals(text, Vector128.Create(separator)) | Vector128.Equals(text, Vector128.Create(decimalMark))
            | Vector128.Equals(text, Vector128.Create((byte)'\n')) | Vector128.Equals(text, Vector128.Create((byte)'\r')))
                .ExtractMostSignificantBits();
    }
}
