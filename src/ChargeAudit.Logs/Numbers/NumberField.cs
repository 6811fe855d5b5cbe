using System.Buffers.Text;
using System.Runtime.CompilerServices;
using System.Text;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Numbers;

/// <summary>How numbers are written in a log.</summary>
/// <param name="Decimal">Decimal separator.</param>
/// <param name="Group">Thousands separator; 0 for none.</param>
internal readonly record struct NumberStyle(byte Decimal, byte Group);

/// <summary>
/// Reads a number field from its bytes, exactly rounded. Strict: <c>1,5</c> is not a number where the decimal separator is a point.
/// Not the library's parser, because that one knows neither a thousands separator that must group by three, nor a unit after the number.
/// </summary>
internal static class NumberField
{
    // Powers of ten that a double holds exactly: one division or multiplication by them rounds once (Clinger's fast path).
    private static ReadOnlySpan<double> Tens =>
    [
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
    ];

    // What instruments write in place of a reading. *Source:* SCPI-1999, volume 1, 7.2.1.4 and 7.2.1.5 (from memory): infinity is 9.9E37,
    // not a number 9.91E37.
    private const double Infinity = 9.9e37;
    private const double NotANumber = 9.91e37;

    private static readonly string[] MissingMarks = ["nan", "null", "n/a", "na", "none", "-", "--", "---", "?"];
    private static readonly string[] OverloadMarks = ["ol", "o.l", "+ol", "-ol", "over", "overload", "ovld", "inf", "+inf", "-inf",
        "infinity", "-infinity"];

    /// <summary>Reads a plain number; anything unusual goes the slow way.</summary>
    /// <param name="field">Bytes of the field.</param>
    /// <param name="style">How numbers are written.</param>
    /// <param name="value">The number, finite; NaN where it cannot be read.</param>
    /// <returns>Whether the field is a number.</returns>
    public static bool TryRead(ReadOnlySpan<byte> field, NumberStyle style, out double value)
    {
        ulong mantissa = 0;
        int digits = 0;
        int decimals = -1;
        int i = 0;
        bool negative = field.Length > 0 && field[0] == (byte)'-';
        i = negative ? 1 : 0;
        for (; i < field.Length; i++)
        {
            uint digit = unchecked((uint)field[i] - '0');
            if (digit <= 9)
            {
                mantissa = unchecked((mantissa * 10) + digit);
                digits++;
            }
            else if (field[i] == style.Decimal && decimals < 0)
            {
                decimals = digits;
            }
            else
            {
                return TryReadUnusual(field, style, out value);
            }
        }

        int scale = decimals < 0 ? 0 : digits - decimals;
        if (digits is 0 or > 18 || !TryMake(mantissa, scale, out double magnitude))
        {
            return TryReadUnusual(field, style, out value);
        }

        value = negative ? -magnitude : magnitude;
        return true;
    }

    /// <summary>A power of ten that a double holds exactly, up to 10²².</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double PowerOfTen(int power) => Tens[power];

    /// <summary>A whole number by a power of ten, exactly rounded; refused where one division cannot do that.</summary>
    /// <param name="mantissa">All digits; at most 18 of them, so that they have not overflowed.</param>
    /// <param name="scale">How many of them are after the decimal separator.</param>
    /// <param name="value">The number.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryMake(ulong mantissa, int scale, out double value)
    {
        value = double.NaN;
        if (mantissa > 1UL << 53 || (uint)scale >= (uint)Tens.Length)
        {
            return false;
        }

        value = mantissa / Tens[scale];
        return true;
    }

    /// <summary>Reads a number with a unit after it, such as <c>5.02 V</c>.</summary>
    public static bool TryReadWithUnit(ReadOnlySpan<byte> field, NumberStyle style, out double value, out Unit unit)
    {
        field = field.Trim((byte)' ');
        int end = field.Length;
        while (end > 0 && !char.IsAsciiDigit((char)field[end - 1]) && field[end - 1] != style.Decimal)
        {
            end--;
        }

        value = double.NaN;
        unit = default;
        return end > 0 && end < field.Length && field.Length - end <= 16
            && TryRead(field[..end].Trim((byte)' '), style, out value)
            && UnitTable.TryFind(Encoding.UTF8.GetString(field[end..]), out unit);
    }

    /// <summary>Whether a field is empty but for blanks.</summary>
    public static bool IsBlank(ReadOnlySpan<byte> field) => field.IndexOfAnyExcept((byte)' ', (byte)'\t') < 0;

    /// <summary>Whether a field says that there is no reading.</summary>
    public static bool IsMissingMark(ReadOnlySpan<byte> field) => Matches(field, MissingMarks) || IsNumber(field, NotANumber);

    /// <summary>Whether a field says that the meter's range was exceeded.</summary>
    public static bool IsOverloadMark(ReadOnlySpan<byte> field) => Matches(field, OverloadMarks) || IsNumber(field, Infinity);

    // A magnitude that an instrument writes in place of a reading.
    private static bool IsNumber(ReadOnlySpan<byte> field, double wanted)
    {
        field = field.Trim(" \t"u8).TrimStart("+-"u8);
        Span<byte> plain = stackalloc byte[Math.Min(field.Length, 48)];
        if (field.IsEmpty || field.Length > plain.Length || !char.IsAsciiDigit((char)field[0]))
        {
            return false;
        }

        field.CopyTo(plain);
        plain.Replace((byte)',', (byte)'.');
        return Utf8Parser.TryParse(plain, out double number, out int used) && used == field.Length && IsNear(number, wanted);
    }

    private static bool IsNear(double number, double wanted) => Math.Abs(number - wanted) < 1e-6 * wanted;

    private static bool Matches(ReadOnlySpan<byte> field, string[] words)
    {
        field = field.Trim(" \t"u8);
        if (field.Length is 0 or > 12)
        {
            return false;
        }

        foreach (string word in words)
        {
            if (Ascii.EqualsIgnoreCase(field, word))
            {
                return true;
            }
        }

        return false;
    }

    private static bool TryReadUnusual(ReadOnlySpan<byte> field, NumberStyle style, out double value)
    {
        value = double.NaN;
        field = field.Trim(" \t"u8);
        if (field.StartsWith("+"u8))
        {
            field = field[1..];
        }
        else if (field.StartsWith("\u2212"u8))
        {
            // The typographic minus sign, as spreadsheets and word processors write it.
            return TryReadUnsigned(field[3..], style, negative: true, out value);
        }

        bool negative = field.StartsWith("-"u8);
        return TryReadUnsigned(negative ? field[1..] : field, style, negative, out value);
    }

    private static bool TryReadUnsigned(ReadOnlySpan<byte> field, NumberStyle style, bool negative, out double value)
    {
        value = double.NaN;
        if (field.Length is 0 or > 400 || !(char.IsAsciiDigit((char)field[0]) || field[0] == style.Decimal))
        {
            return false;
        }

        Span<byte> plain = stackalloc byte[field.Length];
        int length = 0;
        int groupDigits = -1;
        bool inFraction = false;
        for (int i = 0; i < field.Length; i++)
        {
            byte b = field[i];
            if (char.IsAsciiDigit((char)b))
            {
                groupDigits += groupDigits >= 0 ? 1 : 0;
                plain[length++] = b;
            }
            else if (b == style.Decimal && !inFraction)
            {
                if (groupDigits is >= 0 and not 3)
                {
                    return false;
                }

                groupDigits = -1;
                inFraction = true;
                plain[length++] = (byte)'.';
            }
            else if (b is (byte)'e' or (byte)'E' && groupDigits < 0 && length > 0)
            {
                field[i..].CopyTo(plain[length..]);
                length += field.Length - i;
                break;
            }
            else if (!inFraction && style.Group != 0 && IsGroup(field, ref i, style.Group) && groupDigits is -1 or 3 && length is > 0
                && (groupDigits == 3 || length <= 3))
            {
                groupDigits = 0;
            }
            else
            {
                return false;
            }
        }

        if (groupDigits is >= 0 and not 3)
        {
            return false;
        }

        bool read = Utf8Parser.TryParse(plain[..length], out double magnitude, out int used) && used == length
            && NumberLimits.CanBeMeant(magnitude)
            && !IsNear(magnitude, NotANumber) && !IsNear(magnitude, Infinity);
        magnitude = NumberLimits.Meant(magnitude);
        value = negative ? -magnitude : magnitude;
        value = read ? value : double.NaN;
        return read;
    }

    // A blank that groups digits may be the plain, the no-break or the narrow no-break one; an apostrophe the straight or the curved one.
    private static bool IsGroup(ReadOnlySpan<byte> field, ref int i, byte group)
    {
        if (field[i] == group)
        {
            return true;
        }

        if (group == (byte)'\'' && field[i..].StartsWith("\u2019"u8))
        {
            i += 2;
            return true;
        }

        if (group != (byte)' ')
        {
            return false;
        }

        if (field[i..].StartsWith("\u00A0"u8))
        {
            i += 1;
            return true;
        }

        if (field[i..].StartsWith("\u202F"u8) || field[i..].StartsWith("\u2009"u8))
        {
            i += 2;
            return true;
        }

        return false;
    }
}
