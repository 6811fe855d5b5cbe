namespace ChargeAudit.Studies;

/// <summary>A price that holds on some days, at some hours, in a season.</summary>
public sealed record TariffPeriod
{
    /// <summary>Weekdays on which an hour may lie; empty: all.</summary>
    public IReadOnlyList<DayOfWeek> Days { get; init; } = [];

    /// <summary>From this local time, inclusive; on a quarter of an hour.</summary>
    public TimeOnly From { get; init; }

    /// <summary>To this local time, exclusive; 00:00 is the end of the day. Earlier than <see cref="From"/>: over midnight.</summary>
    public TimeOnly To { get; init; }

    /// <summary>First day of the season; null with <see cref="SeasonTo"/>: the whole year.</summary>
    public MonthDay? SeasonFrom { get; init; }

    /// <summary>Last day of the season, inclusive; before <see cref="SeasonFrom"/>: over the turn of the year.</summary>
    public MonthDay? SeasonTo { get; init; }

    /// <summary>In the currency per kWh; may be negative.</summary>
    public required double PricePerKwh { get; init; }
}

/// <summary>A day of any year.</summary>
/// <param name="Month">1 to 12.</param>
/// <param name="Day">1 to 31.</param>
public readonly record struct MonthDay(int Month, int Day);
