namespace ChargeAudit.Studies;

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

/// <summary>A price that holds for a part of a month's consumption.</summary>
/// <param name="UpToKwhPerMonth">Where the tier ends; null: it has no end. [kWh]</param>
/// <param name="PricePerKwh">In the currency per kWh, on top of the base where there is one.</param>
public sealed record TariffTier(double? UpToKwhPerMonth, double PricePerKwh);
