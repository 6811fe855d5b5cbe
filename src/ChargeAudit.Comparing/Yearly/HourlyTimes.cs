using System.Globalization;
using NodaTime;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>Reads the times of a file of hourly values. <i>Source:</i> RFC 3339, section 5.6, with a blank or a T in the middle, seconds
/// optional.</summary>
internal static class HourlyTimes
{
    private static readonly string[] WithOffset =
        ["yyyy-MM-dd'T'HH:mmzzz", "yyyy-MM-dd'T'HH:mm:sszzz", "yyyy-MM-dd HH:mmzzz", "yyyy-MM-dd HH:mm:sszzz"];

    private static readonly string[] Local =
        ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-dd HH:mm:ss"];

    /// <summary>A time as UTC.</summary>
    /// <param name="text">The field.</param>
    /// <param name="zone">Zone of times without an offset; null: they are refused.</param>
    /// <param name="before">Time of the row above: a local time that clocks show twice in autumn is taken to be the first of the two,
    /// unless that is not later than this.</param>
    /// <param name="bad">Makes the error from what was expected.</param>
    internal static DateTime Parse(string text, DateTimeZone? zone, DateTime? before, Func<string, Exception> bad)
    {
        string plain = text.EndsWith('Z') || text.EndsWith('z') ? text[..^1] + "+00:00" : text;
        if (DateTimeOffset.TryParseExact(plain, WithOffset, CultureInfo.InvariantCulture, DateTimeStyles.None, out var absolute))
        {
            return absolute.UtcDateTime;
        }

        if (!DateTime.TryParseExact(plain, Local, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local))
        {
            throw bad("a time such as 2027-03-28T13:00Z or 2027-03-28T13:00+01:00");
        }

        if (zone is null)
        {
            throw bad("a time with its offset, such as 2027-03-28T13:00Z; or give timezone under [tariff]");
        }

        var moments = LocalCalendar.Moments(local, zone);
        return moments.Count switch
        {
            0 => throw bad($"a time that clocks in {zone.Id} show: they skip this one"),
            2 when before is { } b && moments[0] <= b => moments[1],
            _ => moments[0],
        };
    }
}
