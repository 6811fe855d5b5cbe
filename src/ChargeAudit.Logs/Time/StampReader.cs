namespace ChargeAudit.Logs.Time;

/// <summary>
/// Reads date-and-time stamps. It remembers the date it read last, so that a row costs a comparison of a few bytes and the digits of a
/// clock time.
/// </summary>
internal sealed class StampReader(DateOrder order)
{
    private readonly byte[] _dateText = new byte[40];
    private int _dateLength = -1;
    private long _dayTicks;

    /// <summary>Reads a field that holds a date and a time, with or without offset; a date alone is its midnight.</summary>
    public bool TryRead(ReadOnlySpan<byte> field, out Stamp stamp)
    {
        if (_dateLength > 0 && field.Length > _dateLength && field[.._dateLength].SequenceEqual(_dateText.AsSpan(0, _dateLength)))
        {
            return TryReadClock(field, _dateLength, _dayTicks, out stamp);
        }

        if (!TryReadWhole(field, order, out stamp, out long day, out int clockFrom))
        {
            return false;
        }

        // Only a date that ends where its digits end is remembered: 1/1/2031 must not match the beginning of 1/1/20311.
        if (clockFrom > 0 && clockFrom <= _dateText.Length)
        {
            field[..clockFrom].CopyTo(_dateText);
            _dateLength = clockFrom;
            _dayTicks = day;
        }

        return true;
    }

    /// <summary>Whether a field would be read, without remembering its date.</summary>
    public static bool IsStamp(ReadOnlySpan<byte> field, DateOrder order) => TryReadWhole(field, order, out _, out _, out _);

    // Where the clock begins after its separator; 0 for a date alone.
    private static bool TryReadWhole(ReadOnlySpan<byte> field, DateOrder order, out Stamp stamp, out long day, out int clockFrom)
    {
        stamp = default;
        clockFrom = 0;
        bool digitsAlone = field.Length is 12 or 14 && field.IndexOfAnyExceptInRange((byte)'0', (byte)'9') < 0;
        var cursor = new ByteCursor(digitsAlone ? field[..8] : field);
        if (!DateField.TryRead(ref cursor, order, out day, out _))
        {
            return false;
        }

        if (digitsAlone || SkipToClock(ref cursor))
        {
            clockFrom = cursor.At;
            return TryReadClock(field, clockFrom, day, out stamp);
        }

        cursor.SkipBlanks();
        stamp = new Stamp(day, null);
        return cursor.AtEnd;
    }

    private static bool SkipToClock(ref ByteCursor cursor)
    {
        if (cursor.Take('T') || cursor.Take('t') || cursor.Take('_') || (DateField.IsClockAfterSign(cursor) && cursor.Take('-')))
        {
            return true;
        }

        // A sign after the day ends the date as well as a blank does; half a day may stand before the clock in such languages.
        int at = cursor.At;
        cursor.Take(',');
        cursor.SkipBlanks();
        return (cursor.At > at || cursor.PeekAfter(-1) > 0x7F) && (char.IsAsciiDigit((char)cursor.Peek) || cursor.Peek > 0x7F);
    }

    private static bool TryReadClock(ReadOnlySpan<byte> field, int from, long day, out Stamp stamp)
    {
        stamp = default;
        if (field.Length >= from + 8 && TryReadPlain(field[from..], out long clock, out int used))
        {
            used += from;
        }
        else
        {
            var cursor = new ByteCursor(field) { At = from };
            if (!ClockField.TryRead(ref cursor, twoPartsAreMinutes: false, hoursMax: 24, out clock))
            {
                cursor.At = from;
                if (!WrittenClock.TryRead(ref cursor, out clock))
                {
                    return false;
                }
            }

            used = cursor.At;
        }

        int? offset = null;
        if (used < field.Length && !TryReadOffset(field[used..], out offset))
        {
            return false;
        }

        stamp = new Stamp(day + clock, offset);
        return true;
    }

    // hh:mm:ss with an optional fraction, the form nearly all stamps have, without a cursor.
    private static bool TryReadPlain(ReadOnlySpan<byte> text, out long ticks, out int used)
    {
        ticks = 0;
        used = 8;
        uint h1 = Digit(text[0]), h2 = Digit(text[1]), m1 = Digit(text[3]), m2 = Digit(text[4]), s1 = Digit(text[6]), s2 = Digit(text[7]);
        uint hours = unchecked((h1 * 10) + h2);
        if (h1 > 9 || h2 > 9 || m1 > 5 || m2 > 9 || s1 > 5 || s2 > 9 || text[2] != ':' || text[5] != ':' || hours > 23)
        {
            return false;
        }

        ticks = ((((hours * 60) + (m1 * 10) + m2) * 60) + (s1 * 10) + s2) * TimeSpan.TicksPerSecond;
        if (text.Length > 8 && text[8] is (byte)'.' or (byte)',')
        {
            long unit = TimeSpan.TicksPerSecond;
            for (used = 9; used < text.Length && Digit(text[used]) <= 9; used++)
            {
                unit /= 10;
                ticks += (text[used] - '0') * unit;
            }

            if (used == 9)
            {
                return false;
            }
        }

        // A half-day mark after it changes the hour: such a stamp is read by the general way.
        return used == text.Length || text[used] is (byte)'Z' or (byte)'z' or (byte)'+' or (byte)'-';
    }

    // Above 9 for anything that is not a digit.
    private static uint Digit(byte b) => unchecked((uint)b - '0');

    private static bool TryReadOffset(ReadOnlySpan<byte> text, out int? minutes)
    {
        // The usual form first.
        minutes = text is [(byte)'Z'] ? 0 : null;
        if (minutes == 0)
        {
            return true;
        }

        text = ZoneSuffix.WithoutBrackets(text.Trim((byte)' '));
        if (text.IsEmpty)
        {
            return true;
        }

        if (ZoneSuffix.TryFind(text, out int known))
        {
            minutes = known;
            return true;
        }

        var cursor = new ByteCursor(text) { At = 1 };
        int digits = cursor.TakeDigits(out long first);
        long second = 0;
        if (text[0] is not ((byte)'+' or (byte)'-') || digits is not (1 or 2 or 4))
        {
            return false;
        }

        if (digits == 4)
        {
            (first, second) = (first / 100, first % 100);
        }
        else if (cursor.Take(':') && cursor.TakeDigits(out second) != 2)
        {
            return false;
        }

        if (!cursor.AtEnd || first > 18 || second > 59)
        {
            return false;
        }

        minutes = (int)((first * 60) + second) * (text[0] == '-' ? -1 : 1);
        return true;
    }
}
