using NodaTime;
using NodaTime.TimeZones;

namespace ChargeAudit.Logs.Time;

/// <summary>
/// Turns local clock times of one zone into UTC, in the order of a log: the hour that a summer-time change repeats is taken the first
/// time round until the clock falls back, and the second time from there on.
/// </summary>
/// <remarks>Zone rules come with the program, so the same log gives the same times on every machine.</remarks>
internal sealed class ZoneClock(DateTimeZone zone)
{
    private static readonly long NodaEpochTicks = DateTime.UnixEpoch.Ticks;

    private long _plainFrom = long.MaxValue;
    private long _plainTo = long.MinValue;
    private long _plainOffset;
    private long _lastUtc = long.MinValue;
    private bool _second;

    /// <summary>The zone of this name, or null.</summary>
    public static DateTimeZone? Find(string name) => DateTimeZoneProviders.Tzdb.GetZoneOrNull(name);

    /// <summary>UTC of a local time that follows the ones given before.</summary>
    /// <param name="localTicks">Local time, in 100 ns since the year 1.</param>
    public long ToUtc(long localTicks)
    {
        long utc = localTicks >= _plainFrom && localTicks < _plainTo ? localTicks - _plainOffset : Map(localTicks);
        _lastUtc = utc;
        return utc;
    }

    private long Map(long localTicks)
    {
        var mapping = zone.MapLocal(LocalDateTime.FromDateTime(new DateTime(localTicks)));
        if (mapping.Count == 2)
        {
            long early = localTicks - mapping.EarlyInterval.WallOffset.Ticks;
            long late = localTicks - mapping.LateInterval.WallOffset.Ticks;

            // Falling back by more than half the overlap is the change itself; a row out of order falls by less.
            _second |= _lastUtc != long.MinValue && _lastUtc - early > (late - early) / 2;
            return _second ? late : early;
        }

        _second = false;
        ZoneInterval interval = mapping.EarlyInterval;
        if (mapping.Count == 1)
        {
            _plainOffset = interval.WallOffset.Ticks;
            _plainFrom = Later(LocalTicks(interval, start: true), interval.HasStart
                ? LocalTicks(zone.GetZoneInterval(interval.Start - Duration.Epsilon), start: false)
                : long.MinValue);
            _plainTo = Earlier(LocalTicks(interval, start: false), interval.HasEnd
                ? LocalTicks(zone.GetZoneInterval(interval.End), start: true)
                : long.MaxValue);
        }

        // A time in the hour that the change leaves out: the meter's clock had not been set yet.
        return localTicks - interval.WallOffset.Ticks;
    }

    private static long LocalTicks(ZoneInterval interval, bool start) => start
        ? interval.HasStart ? interval.Start.ToUnixTimeTicks() + NodaEpochTicks + interval.WallOffset.Ticks : long.MinValue
        : interval.HasEnd ? interval.End.ToUnixTimeTicks() + NodaEpochTicks + interval.WallOffset.Ticks : long.MaxValue;

    private static long Later(long a, long b) => Math.Max(a, b);

    private static long Earlier(long a, long b) => Math.Min(a, b);
}
