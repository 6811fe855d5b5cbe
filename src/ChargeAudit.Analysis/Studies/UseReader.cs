using ChargeAudit.Analysis.Studies.Toml;

namespace ChargeAudit.Analysis.Studies;

/// <summary>Reads how a charger is used, and what energy costs, from a study file.</summary>
internal static class UseReader
{
    public static Use Use(TomlTableReader table)
    {
        var standard = new Use();
        var use = new Use
        {
            ChargesPerWeek = ChargesPerWeek(table) ?? standard.ChargesPerWeek,
            ChargeSharePercent = ChargeShare(table) ?? standard.ChargeSharePercent,
            HoursOnChargerPerCharge = HoursOnCharger(table),
            PluggedInAllDay = table.Flag("plugged-in-all-day") ?? standard.PluggedInAllDay,
            Given = table.Keys.ToHashSet(StringComparer.Ordinal),
        };
        table.Finish();
        return use;
    }

    public static UseOverride Override(TomlTableReader table)
    {
        var use = new UseOverride(ChargesPerWeek(table), ChargeShare(table), HoursOnCharger(table), table.Flag("plugged-in-all-day"));
        table.Finish();
        return use;
    }

    public static Tariff? Tariff(TomlTableReader table)
    {
        double? price = table.Number("price");
        string? currency = table.Text("currency");
        if (currency is not null && (currency.Length != 3 || !currency.All(char.IsAsciiLetterUpper)))
        {
            throw table.Refuse(table.LineOf("currency"), $"{table.PathOf("currency")} is \"{currency}\"; a currency code of three capital letters (ISO 4217) was expected, such as \"EUR\"");
        }

        if (price is not null && currency is null)
        {
            throw table.Refuse(table.LineOf("price"), $"[{table.Path}] has a price and no currency; add currency = \"EUR\", or another code of ISO 4217");
        }

        table.Finish();
        return price is { } perKwh ? new Tariff(currency!, perKwh) : null;
    }

    private static double? ChargesPerWeek(TomlTableReader table) => table.Number("charges-per-week", 0, 1000);

    private static double? ChargeShare(TomlTableReader table) => table.Number("charge-share", 0, 100);

    private static double? HoursOnCharger(TomlTableReader table) => table.Number("hours-on-charger-per-charge", 0, 168);
}
