using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace ChargeAudit.Logs.Reading;

/// <summary>Reads runs of digits whose length is known, eight at a time.</summary>
internal static class Digits
{
    /// <summary>The longest run that is read. [digits]</summary>
    public const int Most = 16;

    /// <summary>A run up to this is read at once. [digits]</summary>
    public const int Word = 8;
    private const ulong Zeros = 0x3030303030303030;

    private static ReadOnlySpan<ulong> Tens =>
    [
        1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000, 10_000_000_000, 100_000_000_000,
            1_000_000_000_000,
        10_000_000_000_000, 100_000_000_000_000, 1_000_000_000_000_000, 10_000_000_000_000_000,
    ];

    /// <summary>Ten to a power up to <see cref="Most"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong PowerOfTen(int power) => Tens[power];

    /// <summary>Reads a run as a whole number; an empty one is zero.</summary>
    /// <param name="text">The text, with at least eight bytes after the start of the run.</param>
    /// <param name="at">Start of the run.</param>
    /// <param name="count">Its length.</param>
    /// <param name="number">The number.</param>
    /// <returns>Whether all bytes are digits, and not too many.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryRead(ReadOnlySpan<byte> text, int at, int count, out ulong number) =>
        unchecked((uint)count - 1) < Word ? TryReadWord(text, at, count, out number) : TryReadOther(text, at, count, out number);

    /// <summary>Reads a number of up to eight digits with a decimal separator among them as a whole number.</summary>
    /// <param name="text">The text, with at least nine bytes after the start of the number.</param>
    /// <param name="at">Start of the number.</param>
    /// <param name="count">Its digits, 1 to 8.</param>
    /// <param name="places">Those after the separator.</param>
    /// <param name="number">All digits as one number.</param>
    /// <returns>Whether all other bytes are digits.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryRead(ReadOnlySpan<byte> text, int at, int count, int places, out ulong number)
    {
        unchecked
        {
            // The digits before the separator are moved up by the byte that it takes. No digits at all leave a shift of 64, which does not
            // shift.
            int whole = count - places;
            ulong behind = BinaryPrimitives.ReadUInt64LittleEndian(text[(at + 1)..]) ^ Zeros;
            ulong before = BinaryPrimitives.ReadUInt64LittleEndian(text[at..]) ^ Zeros;
            ulong lowest = whole >= Word ? ulong.MaxValue : (1UL << (8 * whole)) - 1;
            ulong values = ((before & lowest) | (behind & ~lowest)) << (64 - (8 * count));
            number = Join(values);
            return count > 0 && AreDigits(values);
        }
    }

    private static bool TryReadOther(ReadOnlySpan<byte> text, int at, int count, out ulong number)
    {
        number = 0;
        if (count <= 0 || count > Most)
        {
            return count == 0;
        }

        bool read = TryReadWord(text, at, count - Word, out ulong high) & TryReadWord(text, at + count - Word, Word, out ulong low);
        number = (high * Tens[Word]) + low;
        return read;
    }

    // The first digit is in the lowest byte. Bytes after the run are shifted out, so that zeros lead; then pairs, fours and eights are
    // joined.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryReadWord(ReadOnlySpan<byte> text, int at, int count, out ulong number)
    {
        unchecked
        {
            ulong values = (BinaryPrimitives.ReadUInt64LittleEndian(text[at..]) ^ Zeros) << (64 - (8 * count));
            number = Join(values);
            return AreDigits(values);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool AreDigits(ulong values) => unchecked(((values | (values + 0x7676767676767676)) & 0x8080808080808080) == 0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Join(ulong values)
    {
        unchecked
        {
            values = (values * 10) + (values >> 8);
            return (((values & 0x000000FF000000FF) * 0x000F424000000064)
                + (((values >> 16) & 0x000000FF000000FF) * 0x0000271000000001)) >> 32;
        }
    }
}
