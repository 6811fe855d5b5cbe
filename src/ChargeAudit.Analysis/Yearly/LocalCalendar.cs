using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Analysis.Yearly;

/// <summary>A quarter of an hour as clocks on the wall show it.</summary>
/// <param name="StartUtc">Its start.</param>
/// <param name="Local">The same moment in local time.</param>
public readonly record struct LocalQuarter(DateTime StartUtc, DateTime Local)
{
    /// <summary>Quarter of the local week, from Monday 00:00, counted from 0.</summary>
    public int OfWeek => (((int)Local.DayOfWeek + 6) % 7 * 96) + (Local.Hour * 4) + (Local.Minute / 15);
}

/// <summary>Local days and quarters of an hour of a time zone; days on which the clocks are set have 23 or 25 hours.</summary>
public static class LocalCalendar
{
    /// <summary>The zone of an IANA name.</summary>
    /// <param name="name">Name, such as <c>Europe/Lisbon</c>.</param>
    /// <param name="key">The key of the study file that holds it, for the message.</param>
    /// <exception cref="InputException">No zone has this name.</exception>
    public static TimeZoneInfo Zone(string name, string key) => TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone)
        ? zone
        : throw new InputException(
            InputProblem.Unusable, $"{key} is '{name}', expected the IANA name of a time zone that this machine knows, such as Europe/Lisbon");

    /// <summary>Hours of a local day. [h]</summary>
    /// <param name="day">The day.</param>
    /// <param name="zone">The zone.</param>
    public static double HoursOfDay(DateOnly day, TimeZoneInfo zone) => (MidnightUtc(day.AddDays(1), zone) - MidnightUtc(day, zone)).TotalHours;

    /// <summary>All quarters of an hour of a local calendar year, in order.</summary>
    /// <param name="year">The year.</param>
    /// <param name="zone">The zone.</param>
    public static IEnumerable<LocalQuarter> QuartersOf(int year, TimeZoneInfo zone)
    {
        var end = MidnightUtc(new DateOnly(year + 1, 1, 1), zone);
        for (var at = MidnightUtc(new DateOnly(year, 1, 1), zone); at < end; at = at.AddMinutes(15))
        {
            yield return new LocalQuarter(at, TimeZoneInfo.ConvertTimeFromUtc(at, zone));
        }
    }

    /// <summary>When a local day begins; where the clocks skip midnight, at the first moment after the gap.</summary>
    private static DateTime MidnightUtc(DateOnly day, TimeZoneInfo zone)
    {
        var midnight = day.ToDateTime(TimeOnly.MinValue);
        if (zone.IsInvalidTime(midnight))
        {
            var after = midnight;
            while (zone.IsInvalidTime(after))
            {
                after = after.AddMinutes(15);
            }

            return TimeZoneInfo.ConvertTimeToUtc(after, zone);
        }

        if (zone.IsAmbiguousTime(midnight))
        {
            // The day begins when midnight is shown for the first time: at the greater offset.
            return DateTime.SpecifyKind(midnight - zone.GetAmbiguousTimeOffsets(midnight).Max(), DateTimeKind.Utc);
        }

        return TimeZoneInfo.ConvertTimeToUtc(midnight, zone);
    }
}
