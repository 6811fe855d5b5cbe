namespace ChargeAudit.Logs.Time;

/// <summary>Reads calendar dates.</summary>
internal static class DateField
{
    // Bytes of the longest name of a weekday in those languages, and of what stands behind it.
    private const int LongestWeekday = 20;
    private static readonly byte[][] Years = ["年"u8.ToArray(), "년"u8.ToArray()];
    private static readonly byte[][] MonthSigns = ["月"u8.ToArray(), "월"u8.ToArray()];
    private static readonly byte[][] DaySigns = ["日"u8.ToArray(), "일"u8.ToArray()];

    /// <summary>Reads the date where the cursor stands and leaves it after the date.</summary>
    /// <param name="cursor">The field.</param>
    /// <param name="order">What comes first where the year does not.</param>
    /// <param name="dayTicks">Midnight of that day, in 100 ns since the year 1.</param>
    /// <param name="open">Whether the text leaves open whether day or month comes first.</param>
    public static bool TryRead(ref ByteCursor cursor, DateOrder order, out long dayTicks, out bool open)
    {
        dayTicks = 0;
        open = false;
        cursor.SkipBlanks();
        if (IsLetter(cursor.Peek))
        {
            SkipWeekday(ref cursor);
        }

        if (IsLetter(cursor.Peek))
        {
            return TryReadMonthNameFirst(ref cursor, out dayTicks);
        }

        int digits = cursor.TakeDigits(out long first);
        if (digits is 8 && (cursor.Peek is not ((byte)'-' or (byte)'/' or (byte)'.' or (byte)':') || IsClockAfterSign(cursor)))
        {
            return TryMake(first / 10000, first / 100 % 100, first % 100, out dayTicks);
        }

        if (digits == 4 && cursor.TakeAny(Years))
        {
            return TryReadSigns(ref cursor, first, out dayTicks);
        }

        if (digits is not (1 or 2 or 4) || !TakeSeparator(ref cursor, out byte separator))
        {
            return false;
        }

        long second;
        if (separator == '.')
        {
            cursor.SkipBlanks();
        }

        bool named = IsLetter(cursor.Peek);
        if (named)
        {
            if (!MonthNames.TryTake(ref cursor, out second))
            {
                return false;
            }

            cursor.Take('.');
            cursor.Take(',');
        }
        else if (cursor.TakeDigits(out second) is not (1 or 2))
        {
            return false;
        }

        if (!(named ? TakeSeparator(ref cursor, out _) : cursor.Take((char)separator)))
        {
            return false;
        }

        if (separator == '.' || named)
        {
            cursor.SkipBlanks();
            cursor.SkipLetters(named ? "de "u8 : default);
        }

        int thirdDigits = cursor.TakeDigits(out long third);
        if (digits == 4)
        {
            // Hungarian and Korean dates may end with a point.
            _ = separator != '.' || cursor.Take('.');
            return thirdDigits is 1 or 2 && TryMake(first, second, third, out dayTicks);
        }

        if (thirdDigits is not (2 or 4))
        {
            return false;
        }

        long year = thirdDigits == 4 ? third : third + (third >= 70 ? 1900 : 2000);
        if (named)
        {
            return TryMake(year, second, first, out dayTicks);
        }

        open = first <= 12 && second <= 12 && first != second;
        return order == DateOrder.DayFirst ? TryMake(year, second, first, out dayTicks) : TryMake(year, first, second, out dayTicks);
    }

    // 2031年5月7日, 2031년 5월 7일.
    private static bool TryReadSigns(ref ByteCursor cursor, long year, out long dayTicks)
    {
        dayTicks = 0;
        cursor.SkipBlanks();
        if (cursor.TakeDigits(out long month) is not (1 or 2) || !cursor.TakeAny(MonthSigns))
        {
            return false;
        }

        cursor.SkipBlanks();
        return cursor.TakeDigits(out long day) is 1 or 2 && cursor.TakeAny(DaySigns) && TryMake(year, month, day, out dayTicks);
    }

    private static bool TryReadMonthNameFirst(ref ByteCursor cursor, out long dayTicks)
    {
        dayTicks = 0;
        if (!MonthNames.TryTake(ref cursor, out long month))
        {
            return false;
        }

        cursor.Take('.');
        if (!TakeSeparator(ref cursor, out _) || cursor.TakeDigits(out long day) is not (1 or 2))
        {
            return false;
        }

        cursor.Take(',');
        return TakeSeparator(ref cursor, out _) && cursor.TakeDigits(out long year) == 4 && TryMake(year, month, day, out dayTicks);
    }

    /// <summary>Whether a hyphen and six digits stand here: 20310517-183000.</summary>
    public static bool IsClockAfterSign(ByteCursor cursor)
    {
        bool all = cursor.Peek == '-';
        for (int i = 1; i <= 6; i++)
        {
            all &= char.IsAsciiDigit((char)cursor.PeekAfter(i));
        }

        return all;
    }

    // "Sat, 17 May 2031", "Sa 17.05.2031": a word before the date that is no month.
    private static void SkipWeekday(ref ByteCursor cursor)
    {
        int at = cursor.At;
        bool month = MonthNames.TryTake(ref cursor, out _);
        cursor.Take('.');
        cursor.Take(',');
        int end = cursor.At;
        cursor.SkipBlanks();
        if (month || cursor.At == end || cursor.At - at > LongestWeekday)
        {
            cursor.At = at;
        }
    }

    private static bool IsLetter(byte b) => char.IsAsciiLetter((char)b) || b is >= 0xC3 and <= 0xC5;

    private static bool TakeSeparator(ref ByteCursor cursor, out byte separator)
    {
        separator = cursor.Peek;
        if (separator is not ((byte)'-' or (byte)'/' or (byte)'.' or (byte)' '))
        {
            return false;
        }

        cursor.At++;
        if (separator == ' ')
        {
            cursor.SkipBlanks();
        }

        return true;
    }

    private static bool TryMake(long year, long month, long day, out long dayTicks)
    {
        dayTicks = 0;
        if (year is < 1900 or > 2200 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth((int)year, (int)month))
        {
            return false;
        }

        dayTicks = new DateTime((int)year, (int)month, (int)day).Ticks;
        return true;
    }
}
