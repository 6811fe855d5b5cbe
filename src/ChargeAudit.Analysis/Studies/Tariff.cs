namespace ChargeAudit.Analysis.Studies;

/// <summary>
/// The price of energy. Exactly one of a flat price, periods and a price file is the base; a flat price beside periods is the price of the
/// hours that no period covers. Tiers come on top, or stand alone. Prices are taken as they stand, tax included, unless a tax is given.
/// </summary>
/// <param name="Currency">ISO 4217 code.</param>
/// <param name="PricePerKwh">Flat price, in the currency per kWh; may be negative; null: none.</param>
public sealed record Tariff(string Currency, double? PricePerKwh = null)
{
    /// <summary>Half-width within which the price level is known, of the price; null: taken as exact. [%]</summary>
    public double? PriceWithinPercent { get; init; }

    /// <summary>Prices by hour, weekday and season; the first that fits counts.</summary>
    public IReadOnlyList<TariffPeriod> Periods { get; init; } = [];

    /// <summary>Prices by the household's consumption in a month, lowest first.</summary>
    public IReadOnlyList<TariffTier> Tiers { get; init; } = [];

    /// <summary>Prices by the hour from a file; null: none.</summary>
    public PriceFile? Hourly { get; init; }

    /// <summary>What comes on top of each kWh, such as a network charge, in the currency per kWh.</summary>
    public double SurchargePerKwh { get; init; }

    /// <summary>Tax on price, surcharge and tiers; 0: prices include it. [%]</summary>
    public double TaxPercent { get; init; }

    /// <summary>Fixed charge in a month, in the currency; shown, and never shared out to a charger.</summary>
    public double? FixedPerMonth { get; init; }

    /// <summary>IANA name of the zone in which hours and weekdays are meant; needed with periods and with a file of local times.</summary>
    public string? TimeZone { get; init; }

    /// <summary>The calendar year over which periods are weighted. Default 2027.</summary>
    public int CalendarYear { get; init; } = 2027;

    /// <summary>Days that count as Sundays.</summary>
    public IReadOnlyList<DateOnly> Holidays { get; init; } = [];
}

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

/// <summary>A price that holds for a part of a month's consumption.</summary>
/// <param name="UpToKwhPerMonth">Where the tier ends; null: it has no end. [kWh]</param>
/// <param name="PricePerKwh">In the currency per kWh, on top of the base where there is one.</param>
public sealed record TariffTier(double? UpToKwhPerMonth, double PricePerKwh);

/// <summary>What the numbers of a price or emission file are.</summary>
public enum PriceUnit
{
    /// <summary>Per kilowatt-hour.</summary>
    PerKwh,

    /// <summary>Per megawatt-hour.</summary>
    PerMwh,
}

/// <summary>A CSV with a time column and a value column; each value holds until the next row's time.</summary>
/// <param name="File">Path as written.</param>
/// <param name="Unit">What the numbers are.</param>
public sealed record PriceFile(string File, PriceUnit Unit = PriceUnit.PerKwh);
