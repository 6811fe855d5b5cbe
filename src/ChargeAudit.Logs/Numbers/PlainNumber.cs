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
    public static bool Is(string field, out int places)
    {
        places = -1;
        int from = field.Length > 0 && field[0] == '-' ? 1 : 0;
        int digits = 0;
        for (int i = from; i < field.Length; i++)
        {
            char c = field[i];
            if (char.IsAsciiDigit(c))
            {
                digits++;
                places += places >= 0 ? 1 : 0;
            }
            else if (c == '.' && places < 0 && digits > 0)
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
