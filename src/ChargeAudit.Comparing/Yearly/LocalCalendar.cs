using ChargeAudit.Metrology.Diagnostics;
using NodaTime;
using NodaTime.TimeZones;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A quarter of an hour as clocks on the wall show it.</summary>
/// <param name="StartUtc">Its start.</param>
/// <param name="Local">The same moment in local time.</param>
public readonly record struct LocalQuarter(DateTime StartUtc, DateTime Local)
{
    /// <summary>Quarter of the local week, from Monday 00:00, counted from 0.</summary>
    public int OfWeek => (((int)Local.DayOfWeek + 6) % 7 * 96) + (Local.Hour * 4) + (Local.Minute / 15);
}

/// <summary>
/// Local days and quarters of an hour of a time zone; days on which the clocks are set have 23 or 25 hours. The rules are those of the IANA
/// time zone database that the NodaTime library carries, so they do not depend on the machine.
/// </summary>
public static class LocalCalendar
{
    /// <summary>The zone of an IANA name.</summary>
    /// <param name="name">Name, such as <c>Europe/Lisbon</c>.</param>
    /// <param name="key">The key of the study file that holds it, for the message.</param>
    /// <exception cref="InputException">No zone has this name.</exception>
    public static DateTimeZone Zone(string name, string key) => DateTimeZoneProviders.Tzdb.GetZoneOrNull(name)
        ?? throw new InputException(InputProblem.Unusable,
            $"{key} is '{name}', expected the IANA name of a time zone, such as Europe/Lisbon");

    /// <summary>All quarters of an hour of a local calendar year, in order.</summary>
    /// <param name="year">The year.</param>
    /// <param name="zone">The zone.</param>
    public static IEnumerable<LocalQuarter> QuartersOf(int year, DateTimeZone zone)
    {
        var end = Start(new DateOnly(year + 1, 1, 1), zone);
        for (var at = Start(new DateOnly(year, 1, 1), zone); at < end; at += Duration.FromMinutes(15))
        {
            yield return At(at.ToDateTimeUtc(), zone);
        }
    }

    /// <summary>A quarter of an hour that starts at a moment.</summary>
    /// <param name="utc">The moment, in UTC.</param>
    /// <param name="zone">The zone.</param>
    public static LocalQuarter At(DateTime utc, DateTimeZone zone) =>
        new(utc, Instant.FromDateTimeUtc(utc).InZone(zone).ToDateTimeUnspecified());

    /// <summary>The moments at which clocks show a local time: none where they skip it, two in order where they show it twice.</summary>
    /// <param name="local">The local time.</param>
    /// <param name="zone">The zone.</param>
    internal static IReadOnlyList<DateTime> Moments(DateTime local, DateTimeZone zone)
    {
        ZoneLocalMapping mapping = zone.MapLocal(LocalDateTime.FromDateTime(local));
        return mapping.Count switch
        {
            0 => [],
            1 => [mapping.Single().ToDateTimeUtc()],
            _ => [mapping.First().ToDateTimeUtc(), mapping.Last().ToDateTimeUtc()],
        };
    }

    private static Instant Start(DateOnly day, DateTimeZone zone) => zone.AtStartOfDay(LocalDate.FromDateOnly(day)).ToInstant();
}
