using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
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

    // Set beside the others, so that counting zeros never meets a word without a bit: a branch for that, predicted wrongly, costs more than
    // the search.
    private const ulong Highest = 1UL << 63;

    private int[] _places = [];

    /// <summary>Finds the marks of a stretch of text.</summary>
    /// <param name="text">The text, with at least <see cref="Block"/> bytes after the stretch that may hold anything.</param>
    /// <param name="from">Start of the stretch.</param>
    /// <param name="to">End of the stretch.</param>
    /// <returns>The place before the stretch, then places of the marks, rising.</returns>
    public ReadOnlySpan<int> Find(ReadOnlySpan<byte> text, int from, int to)
    {
        int most = 1 + to - from + Block + Group;
        _places = _places.Length < most ? new int[most] : _places;
        ReadOnlySpan<byte> stretch = text[from..];
        _places[0] = from - 1;
        int count = 1;
        unchecked
        {
            // There is room for a mark in each byte and a group more, so places never overflow.
            ref int places = ref MemoryMarshal.GetArrayDataReference(_places);
            for (int at = from; at < to; at += Block)
            {
                ulong bits = Bits(stretch.Slice(at - from, Block));
                ref int next = ref Unsafe.Add(ref places, count);
                count += BitOperations.PopCount(bits);
                do
                {
                    next = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 1) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 2) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 3) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 4) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 5) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 6) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    Unsafe.Add(ref next, 7) = at + BitOperations.TrailingZeroCount(bits | Highest);
                    bits &= bits - 1;
                    next = ref Unsafe.Add(ref next, Group);
                }
                while (bits != 0);
            }
        }

        ReadOnlySpan<int> found = _places;
        while (found[count - 1] >= to)
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
