namespace ChargeAudit.Logs.Time;

/// <summary>
/// Clock times after a date that are not written with colons alone: with points as in the Nordic languages (<c>18.30</c>,
/// <c>18.30.05</c>), with signs of East Asian languages (<c>18时30分05秒</c>), or with the half of the day before them
/// (<c>下午 6:30:05</c>). Common practice, no source.
/// </summary>
internal static class WrittenClock
{
    private static readonly byte[][] Morning = ["上午"u8.ToArray(), "午前"u8.ToArray(), "오전"u8.ToArray()];
    private static readonly byte[][] Afternoon = ["下午"u8.ToArray(), "午後"u8.ToArray(), "오후"u8.ToArray()];
    private static readonly byte[][] Hours = ["時"u8.ToArray(), "时"u8.ToArray(), "시"u8.ToArray()];
    private static readonly byte[][] Minutes = ["分"u8.ToArray(), "분"u8.ToArray()];
    private static readonly byte[][] Seconds = ["秒"u8.ToArray(), "초"u8.ToArray()];

    /// <summary>Reads from where the cursor stands; leaves it after the time.</summary>
    public static bool TryRead(ref ByteCursor cursor, out long ticks)
    {
        ticks = 0;
        int half = cursor.TakeAny(Morning) ? 0 : cursor.TakeAny(Afternoon) ? 12 : -1;
        cursor.SkipBlanks();
        if (cursor.TakeDigits(out long hours) is not (1 or 2))
        {
            return false;
        }

        bool signs = cursor.TakeAny(Hours);
        bool read = signs
            ? TryReadSigns(ref cursor, out long minutes, out long seconds)
            : TryReadParts(ref cursor, half >= 0 ? ':' : '.', out minutes, out seconds);
        if (!read || minutes > 59 || seconds > 59 || hours > (half < 0 ? 23 : 12))
        {
            return false;
        }

        hours = half < 0 ? hours : (hours % 12) + half;
        ticks = ((((hours * 60) + minutes) * 60) + seconds) * TimeSpan.TicksPerSecond;
        return true;
    }

    /// <summary>Reads hours, minutes and seconds behind each of which its letter stands: <c>18h30m05s</c>, <c>18h30</c>, <c>2m10s</c>. At
    /// least two of them, as one alone is a number with its unit, unless <c>PT</c> stands before it.</summary>
    /// <remarks>*Source:* durations of ISO 8601-1:2019, 5.5.2 (from memory).</remarks>
    public static bool TryReadLetters(ref ByteCursor cursor, out long ticks)
    {
        ticks = 0;
        long seconds = 0;
        int parts = 0;
        long lastFactor = long.MaxValue;
        bool duration = cursor.Take('P') && cursor.Take('T');
        while (cursor.TakeDigits(out long value) is > 0 and <= 7)
        {
            char letter = char.ToLowerInvariant((char)cursor.Peek);
            long factor = letter switch { 'h' => 3600, 'm' => 60, 's' => 1, _ => lastFactor == 3600 && cursor.AtEnd ? 60 : 0 };
            if (factor == 0 || factor >= lastFactor || (parts > 0 && value > 59))
            {
                return false;
            }

            seconds += value * factor;
            (lastFactor, parts) = (factor, parts + 1);
            cursor.At += cursor.AtEnd ? 0 : 1;
            cursor.SkipLetters(factor == 60 ? "in"u8 : factor == 1 ? "ec"u8 : default);
            cursor.SkipBlanks();
        }

        ticks = seconds * TimeSpan.TicksPerSecond;
        return parts > (duration ? 0 : 1);
    }

    private static bool TryReadParts(ref ByteCursor cursor, char between, out long minutes, out long seconds)
    {
        seconds = 0;
        minutes = 0;
        return cursor.Take(between) && cursor.TakeDigits(out minutes) == 2
            && (!cursor.Take(between) || cursor.TakeDigits(out seconds) == 2);
    }

    private static bool TryReadSigns(ref ByteCursor cursor, out long minutes, out long seconds)
    {
        seconds = 0;
        cursor.SkipBlanks();
        int digits = cursor.TakeDigits(out minutes);
        if (digits == 0)
        {
            return true;
        }

        if (digits > 2 || !cursor.TakeAny(Minutes))
        {
            return false;
        }

        cursor.SkipBlanks();
        return cursor.TakeDigits(out seconds) is var last && (last == 0 || (last <= 2 && cursor.TakeAny(Seconds)));
    }
}
