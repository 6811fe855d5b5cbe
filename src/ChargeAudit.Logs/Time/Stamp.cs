namespace ChargeAudit.Logs.Time;

/// <summary>One point in time as written.</summary>
/// <param name="LocalTicks">Date and clock time as they stand, in ticks of 100 ns since the year 1.</param>
/// <param name="OffsetMinutes">Offset from UTC; null where none is written. [min]</param>
internal readonly record struct Stamp(long LocalTicks, int? OffsetMinutes)
{
    public long UtcTicks => LocalTicks - ((OffsetMinutes ?? 0) * TimeSpan.TicksPerMinute);
}
