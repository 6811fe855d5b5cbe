using NodaTime;

namespace ChargeAudit.Logs.Time;

/// <summary>How a log writes its times.</summary>
internal enum TimeForm
{
    /// <summary>Date and time in one field.</summary>
    Stamp,

    /// <summary>Date in one field, clock time in another.</summary>
    DateAndClock,

    /// <summary>Clock time alone, which starts again at midnight.</summary>
    ClockOfDay,

    /// <summary>Elapsed time as hours, minutes and seconds.</summary>
    ElapsedClock,

    /// <summary>A number of seconds or other units since the start.</summary>
    ElapsedNumber,

    /// <summary>A number of seconds or parts of one since 1970-01-01 UTC.</summary>
    Epoch,

    /// <summary>Days since 1899-12-30, as spreadsheets count.</summary>
    SerialDays,

    /// <summary>No time column: rows come at a fixed interval.</summary>
    FixedInterval,
}

/// <summary>Everything the row reader must know to turn a row into a time.</summary>
internal sealed record TimePlan
{
    public required TimeForm Form { get; init; }

    /// <summary>Column of the time, or of the date; −1 for none.</summary>
    public int Index { get; init; } = -1;

    /// <summary>Column of the clock time where the date stands alone; −1 for none.</summary>
    public int ClockIndex { get; init; } = -1;

    public DateOrder Order { get; init; } = DateOrder.DayFirst;

    /// <summary>Whether <c>12:34</c> means minutes and seconds.</summary>
    public bool TwoPartsAreMinutes { get; init; }

    /// <summary>Seconds per unit of a numeric time.</summary>
    public double Factor { get; init; } = 1;

    /// <summary>Zero of the raw time: ticks for stamps.</summary>
    public long BaseTicks { get; init; }

    /// <summary>Zero of the raw time in units of the column, for numeric times.</summary>
    public double BaseNumber { get; init; }

    /// <summary>Zone of stamps that carry no offset; null: taken as they stand.</summary>
    public DateTimeZone? Zone { get; init; }

    /// <summary>Interval between rows where there is no time column. [s]</summary>
    public double FixedIntervalS { get; init; }

    /// <summary>Typical rows per stamp where stamps are coarser than the sampling; 0 where each row has its own.</summary>
    public double RowsPerStamp { get; init; }

    /// <summary>Resolution of such stamps. [s]</summary>
    public double StampStepS { get; init; }
}
