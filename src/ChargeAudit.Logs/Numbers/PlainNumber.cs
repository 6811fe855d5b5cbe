namespace ChargeAudit.Logs.Numbers;

/// <summary>The form of nearly all fields of a log: digits, a point between them or none, a minus before them or none. What such a field
/// is, is clear at once: a number, no date, no clock time, no mark, no unit.</summary>
internal static class PlainNumber
{
    // So that no digit is lost, and no magnitude that stands for a missing reading is reached.
    private const int MostDigits = 15;

    /// <summary>Whether a field has that form.</summary>
    /// <param name="field">The field.</param>
    /// <param name="places">Digits after the point; −1 where there is none.</param>
    public static bool Is(ReadOnlySpan<char> field, out int places) => IsPlain(field, '.', out places, out _);

    /// <summary>The number that a field of that form is, with the bits that <see cref="NumberField"/> gives for it.</summary>
    /// <param name="field">The field.</param>
    /// <param name="mark">What stands before the decimals: a point, or a comma in its place.</param>
    /// <param name="places">Digits after the mark; −1 where there is none.</param>
    /// <param name="value">The number.</param>
    public static bool TryRead(ReadOnlySpan<char> field, char mark, out int places, out double value)
    {
        value = double.NaN;
        if (!IsPlain(field, mark, out places, out ulong digits) || !NumberField.TryMake(digits, Math.Max(0, places), out double magnitude))
        {
            return false;
        }

        value = field[0] == '-' ? -magnitude : magnitude;
        return true;
    }

    /// <summary>Whether the point, or the comma in its place, of a field of that form might group thousands: 8.700 is 8.7 or 8 700.</summary>
    /// <param name="field">The field.</param>
    /// <param name="places">Its digits after that sign.</param>
    public static bool MayBeGrouped(ReadOnlySpan<char> field, int places)
    {
        ReadOnlySpan<char> whole = places == 3 ? field[(field[0] == '-' ? 1 : 0)..^4] : [];
        return whole.Length is > 0 and <= 3 && whole[0] != '0';
    }

    private static bool IsPlain(ReadOnlySpan<char> field, char mark, out int places, out ulong mantissa)
    {
        places = -1;
        mantissa = 0;
        int from = field.Length > 0 && field[0] == '-' ? 1 : 0;
        int digits = 0;
        for (int i = from; i < field.Length; i++)
        {
            uint digit = unchecked((uint)field[i] - '0');
            if (digit <= 9)
            {
                mantissa = unchecked((mantissa * 10) + digit);
                digits++;
                places += places >= 0 ? 1 : 0;
            }
            else if (field[i] == mark && places < 0 && digits > 0)
            {
                places = 0;
            }
            else
            {
                return false;
            }
        }

        return digits is > 0 and <= MostDigits && places != 0;
    }
}
