namespace ChargeAudit.Logs.Time;

/// <summary>Reads clock times and elapsed times written as hours, minutes and seconds.</summary>
internal static class ClockField
{
    /// <summary>Reads a field that holds nothing else.</summary>
    /// <param name="field">Bytes such as <c>18:30</c>, <c>6:30:05.25 PM</c>, <c>27:00:00.000</c>, <c>1.03:00:00</c>,
    /// <c>18.30.05</c> or <c>2m10s</c>.</param>
    /// <param name="twoPartsAreMinutes">Whether <c>12:34</c> means minutes and seconds.</param>
    /// <param name="ticks">Time since midnight or since the start, in 100 ns.</param>
    public static bool TryRead(ReadOnlySpan<byte> field, bool twoPartsAreMinutes, out long ticks) =>
        TryReadColons(field, twoPartsAreMinutes, out ticks) || TryReadWritten(field, out ticks);

    /// <summary>Likewise, of forms without colons: <c>18.30.05</c>, <c>18h30m05s</c>, <c>2m10s</c>, <c>PT2M10S</c>, <c>18时30分</c>. Two
    /// parts with a point are a number.</summary>
    public static bool TryReadWritten(ReadOnlySpan<byte> field, out long ticks)
    {
        ticks = 0;
        var cursor = new ByteCursor(field);
        cursor.SkipBlanks();
        if (!char.IsAsciiDigit((char)cursor.Peek) && cursor.Peek is not (byte)'P' and <= 0x7F)
        {
            return false;
        }

        bool read = WrittenClock.TryReadLetters(ref cursor, out ticks);
        if (!read)
        {
            cursor.At = 0;
            cursor.SkipBlanks();
            read = field.Count((byte)'.') != 1 && WrittenClock.TryRead(ref cursor, out ticks);
        }

        cursor.SkipBlanks();
        return read && cursor.AtEnd;
    }

    private static bool TryReadColons(ReadOnlySpan<byte> field, bool twoPartsAreMinutes, out long ticks)
    {
        var cursor = new ByteCursor(field);
        cursor.SkipBlanks();
        long days = 0;
        int at = cursor.At;
        if (cursor.TakeDigits(out long first) is > 0 and <= 6 && TakesDaySeparator(ref cursor))
        {
            days = first;
        }
        else
        {
            cursor.At = at;
        }

        if (!TryRead(ref cursor, twoPartsAreMinutes, hoursMax: 1_000_000, out ticks))
        {
            return false;
        }

        ticks += days * TimeSpan.TicksPerDay;
        cursor.SkipBlanks();
        return cursor.AtEnd;
    }

    /// <summary>Reads from where the cursor stands; leaves it after the time.</summary>
    public static bool TryRead(ref ByteCursor cursor, bool twoPartsAreMinutes, int hoursMax, out long ticks)
    {
        ticks = 0;
        int hourDigits = cursor.TakeDigits(out long hours);
        long minutes;
        long seconds = 0;
        if (hourDigits is 4 or 6 && cursor.Peek != ':')
        {
            // Compact ISO 8601: hhmm or hhmmss.
            long compact = hours;
            seconds = hourDigits == 6 ? compact % 100 : 0;
            compact = hourDigits == 6 ? compact / 100 : compact;
            minutes = compact % 100;
            hours = compact / 100;
        }
        else
        {
            if (hourDigits is 0 or > 7 || !cursor.Take(':') || cursor.TakeDigits(out minutes) is 0 or > 2)
            {
                return false;
            }

            if (cursor.Take(':'))
            {
                if (cursor.TakeDigits(out seconds) is 0 or > 2)
                {
                    return false;
                }
            }
            else if (twoPartsAreMinutes)
            {
                (hours, minutes, seconds) = (hours / 60, hours % 60, minutes);
            }
        }

        long fraction = 0;
        if (cursor.Peek is (byte)'.' or (byte)',' && char.IsAsciiDigit((char)cursor.PeekAfter(1)))
        {
            cursor.At++;
            TakeFraction(ref cursor, out fraction);
        }

        // The 60th second is a leap second.
        if (minutes > 59 || seconds > 60 || hours > hoursMax || !TakesHalfDay(ref cursor, ref hours))
        {
            return false;
        }

        ticks = (((hours * 60) + minutes) * 60 * TimeSpan.TicksPerSecond) + (seconds * TimeSpan.TicksPerSecond) + fraction;
        return true;
    }

    private static void TakeFraction(ref ByteCursor cursor, out long ticks)
    {
        ticks = 0;
        long unit = TimeSpan.TicksPerSecond;
        while (char.IsAsciiDigit((char)cursor.Peek))
        {
            unit /= 10;
            ticks += (cursor.Peek - '0') * unit;
            cursor.At++;
        }
    }

    private static bool TakesDaySeparator(ref ByteCursor cursor)
    {
        if (cursor.Take('d') || cursor.Take('D'))
        {
            cursor.Take(',');
            cursor.SkipBlanks();
            return true;
        }

        return (cursor.Peek is (byte)'.' or (byte)' ' && char.IsAsciiDigit((char)cursor.PeekAfter(1))) && ++cursor.At > 0;
    }

    // 12 AM is midnight, 12 PM is noon.
    private static bool TakesHalfDay(ref ByteCursor cursor, ref long hours)
    {
        int at = cursor.At;
        cursor.SkipBlanks();
        char half = char.ToLowerInvariant((char)cursor.Peek);
        if (half is not ('a' or 'p'))
        {
            cursor.At = at;
            return true;
        }

        cursor.At++;
        if (cursor.Take('.'))
        {
            cursor.SkipBlanks();
        }

        if (!cursor.Take('m') && !cursor.Take('M'))
        {
            // The name of a zone may begin so.
            cursor.At = at;
            return true;
        }

        cursor.Take('.');
        if (hours is 0 or > 12)
        {
            return false;
        }

        hours = (hours % 12) + (half == 'p' ? 12 : 0);
        return true;
    }
}
