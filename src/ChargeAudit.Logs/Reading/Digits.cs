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

    /// <summary>Reads a short number as a whole number, its decimal separator left out.</summary>
    /// <param name="text">The text, with at least nine bytes after the start of the number.</param>
    /// <param name="at">Start of the number.</param>
    /// <param name="points">Separators, 0 or 1.</param>
    /// <param name="before">Its <see cref="Shape.Before"/>.</param>
    /// <param name="shift">Its <see cref="Shape.Shift"/>.</param>
    /// <param name="wrong">Gets a bit where a byte is no digit.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong Read(ref byte text, int at, int points, ulong before, int shift, ref ulong wrong)
    {
        ulong values = Joined(ref text, at, points, before) << shift;
        wrong |= NoDigits(values);
        return Join(values);
    }

    /// <summary>The same of a long number.</summary>
    /// <param name="text">The text.</param>
    /// <param name="at">Start of the number.</param>
    /// <param name="last">Start of its last eight digits.</param>
    /// <param name="points">Separators, 0 or 1.</param>
    /// <param name="before">Its <see cref="Shape.Before"/>.</param>
    /// <param name="shift">Its <see cref="Shape.Shift"/>.</param>
    /// <param name="wrong">Gets a bit where a byte is no digit.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong ReadLong(ref byte text, int at, int last, int points, ulong before, int shift, ref ulong wrong)
    {
        unchecked
        {
            ulong low = Joined(ref text, last, points, before);
            ulong high = (Load(ref text, at) ^ Zeros) << shift;
            wrong |= NoDigits(low) | NoDigits(high);
            return (Join(high) * 100_000_000) + Join(low);
        }
    }

    // Eight digits with the separator left out, as values.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Joined(ref byte text, int at, int points, ulong before) =>
        ((Load(ref text, at) & before) | (Load(ref text, unchecked(at + points)) & ~before)) ^ Zeros;

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
            return NoDigits(values) == 0;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong NoDigits(ulong values) => unchecked((values | (values + 0x7676767676767676)) & 0x8080808080808080);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Load(ref byte text, int at)
    {
        ulong word = Unsafe.ReadUnaligned<ulong>(ref Unsafe.Add(ref text, at));
        return BitConverter.IsLittleEndian ? word : BinaryPrimitives.ReverseEndianness(word);
    }

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
