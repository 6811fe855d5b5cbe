using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads the price of energy from a study file.</summary>
internal static class TariffReader
{
    private static readonly (string Word, PriceUnit Unit)[] Units = [("per-kwh", PriceUnit.PerKwh), ("per-mwh", PriceUnit.PerMwh)];

    /// <summary>The tariff; null where the table holds no price of any kind.</summary>
    public static Tariff? Read(TomlTableReader table)
    {
        double? price = table.Number("price");
        string? currency = table.Text("currency");
        if (currency is not null && (currency.Length != 3 || !currency.All(char.IsAsciiLetterUpper)))
        {
            throw table.Refuse(table.LineOf("currency"),
                $"{table.PathOf("currency")} is \"{currency}\"; a currency code of three capital letters (ISO 4217) was expected, such as "
                + "\"EUR\"");
        }

        var tariff = new Tariff(currency ?? string.Empty, price)
        {
            PriceWithinPercent = table.Number("price-within", 0, 100),
            Periods = [.. table.ListOfTables("period").Select(Period)],
            Tiers = [.. table.ListOfTables("tier").Select(Tier)],
            Hourly = Hourly(table),
            SurchargePerKwh = table.Number("surcharge") ?? 0,
            TaxPercent = table.Number("tax", 0, 1000) ?? 0,
            FixedPerMonth = table.Number("fixed-per-month", 0),
            TimeZone = table.Text("timezone"),
            CalendarYear = YearValues.Whole(table, "calendar-year", 1970, 2200) ?? new Tariff("EUR").CalendarYear,
            Holidays = YearValues.Dates(table, "holidays"),
        };
        table.Finish();
        if (price is null && tariff.Periods.Count == 0 && tariff.Tiers.Count == 0 && tariff.Hourly is null)
        {
            return null;
        }

        return currency is not null
            ? tariff
            : throw table.Refuse(table.LineOf("price"),
                $"[{table.Path}] has a price and no currency; add currency = \"EUR\", or another code of ISO 4217");
    }

    /// <summary>A file of hourly values and its unit; null where the key is absent.</summary>
    public static PriceFile? Hourly(TomlTableReader table)
    {
        var unit = table.Choice("hourly-unit", Units);
        if (table.Text("hourly") is { } file)
        {
            return new PriceFile(file, unit ?? PriceUnit.PerKwh);
        }

        return unit is null
            ? null
            : throw table.Refuse(table.LineOf("hourly-unit"),
                $"{table.PathOf("hourly-unit")} is given and no file; add hourly = \"prices.csv\"");
    }

    private static TariffPeriod Period(TomlTableReader table)
    {
        var period = new TariffPeriod
        {
            Days = YearValues.Days(table, "days"),
            From = YearValues.Time(table, "from") ?? TimeOnly.MinValue,
            To = YearValues.Time(table, "to") ?? TimeOnly.MinValue,
            SeasonFrom = YearValues.MonthDay(table, "season-from"),
            SeasonTo = YearValues.MonthDay(table, "season-to"),
            PricePerKwh = Price(table),
        };
        table.Finish();
        return period;
    }

    private static TariffTier Tier(TomlTableReader table)
    {
        var tier = new TariffTier(table.Number("up-to-kwh", 0), Price(table));
        table.Finish();
        return tier;
    }

    private static double Price(TomlTableReader table) =>
        table.Number("price") ?? throw table.Refuse(table.Line, $"[{table.Path}] has no price; add price = 0.30, in the currency per kWh");
}
