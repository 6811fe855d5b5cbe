using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads how a charger is used from a study file.</summary>
internal static class UseReader
{
    public static Use Use(TomlTableReader table)
    {
        var standard = new Use();
        var use = new Use
        {
            ChargesPerWeek = ChargesPerWeek(table) ?? standard.ChargesPerWeek,
            ChargesPerWeekRange = YearValues.Range(table, "charges-per-week-range"),
            ChargeSharePercent = ChargeShare(table) ?? standard.ChargeSharePercent,
            HoursOnChargerPerCharge = HoursOnCharger(table),
            PluggedInAllDay = table.Flag("plugged-in-all-day") ?? standard.PluggedInAllDay,
            Devices = Devices(table) ?? standard.Devices,
            ChargingStart = YearValues.Time(table, "charging-start") ?? standard.ChargingStart,
            ChargingDays = YearValues.Days(table, "charging-days"),
            Year = YearOf(table),
            Given = table.Keys.ToHashSet(StringComparer.Ordinal),
        };
        table.Finish();
        return use;
    }

    public static UseOverride Override(TomlTableReader table)
    {
        var use = new UseOverride(ChargesPerWeek(table), ChargeShare(table), HoursOnCharger(table), table.Flag("plugged-in-all-day"))
        {
            ChargesPerWeekRange = YearValues.Range(table, "charges-per-week-range"),
            Devices = Devices(table),
            ChargingStart = YearValues.Time(table, "charging-start"),
            ChargingDays = table.Has("charging-days") ? YearValues.Days(table, "charging-days") : null,
            Given = table.Keys.ToHashSet(StringComparer.Ordinal),
        };
        table.Finish();
        return use;
    }

    /// <summary>The price of energy.</summary>
    public static Tariff? Tariff(TomlTableReader table) => TariffReader.Read(table);

    private static double? ChargesPerWeek(TomlTableReader table) => table.Number("charges-per-week", 0, 1000);

    private static double? ChargeShare(TomlTableReader table) => table.Number("charge-share", 0, 100);

    private static double? HoursOnCharger(TomlTableReader table) => table.Number("hours-on-charger-per-charge", 0, 168);

    private static int? Devices(TomlTableReader table) => YearValues.Whole(table, "devices", 1, 100);

    private static YearLength YearOf(TomlTableReader table) => table.Number("year-hours") switch
    {
        null or 8760 => YearLength.Common,
        8766 => YearLength.Julian,
        8784 => YearLength.Leap,
        double other => throw table.Refuse(table.LineOf("year-hours"), InvariantText.Of(
            $"{table.PathOf("year-hours")} is {other}; it must be 8760 (365 days), 8766 (365.25 days) or 8784 (366 days)")),
    };
}
