using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads household, adapter, emissions and what a method says about its charger from a study file.</summary>
internal static class SurroundingsReader
{
    private static readonly (string Word, SupplyKind Kind)[] Supplies =
        [("ac-ac", SupplyKind.AcAc), ("ac-dc", SupplyKind.AcDc), ("low-voltage", SupplyKind.LowVoltage),
            ("multiple", SupplyKind.MultipleVoltage)];

    private static readonly (string Word, PadPlacement Placement)[] Placements =
        [("fixed", PadPlacement.FixedLocation), ("open", PadPlacement.OpenPlacement)];

    /// <summary>A study with what <c>[household]</c>, <c>[adapter]</c> and <c>[co2]</c> say.</summary>
    public static Study Into(Study study, TomlTableReader document) => study with
    {
        Household = document.Table("household") is { } household ? Household(household) : null,
        Adapter = document.Table("adapter") is { } adapter ? Adapter(adapter) : null,
        Carbon = document.Table("co2") is { } carbon ? Carbon(carbon) : null,
    };

    /// <summary>A method with its own adapter, its price and what the US procedure asks.</summary>
    public static Method Into(Method method, TomlTableReader table) => method with
    {
        Adapter = table.Table("adapter") is { } adapter ? Adapter(adapter) : null,
        CableOhm = QuantityText.Optional(table, "cable-resistance", "Ω", "0.2 ohm"),
        PurchasePrice = table.Number("purchase-price", 0),
        Placement = table.Choice("placement", Placements),
        WetEnvironment = table.Flag("wet-environment") ?? false,
    };

    /// <summary>A device with the voltage of its battery.</summary>
    public static DeviceInfo Into(DeviceInfo device, TomlTableReader table) => device with
    {
        BatteryV = table.Number("battery-voltage", 0.1, 1000),
    };

    public static Household Household(TomlTableReader table)
    {
        var months = YearValues.Numbers(table, "kwh-per-month");
        table.Finish();
        return months.Count is 1 or 12 && months.All(m => m >= 0)
            ? new Household(months)
            : throw table.Refuse(table.Line, $"[{table.Path}] needs kwh-per-month: one number, or twelve from January on, none below zero");
    }

    public static AdapterInfo Adapter(TomlTableReader table)
    {
        var adapter = new AdapterInfo(
            table.Number("efficiency", 0, 100),
            table.Number("efficiency-within", 0, 100),
            QuantityText.Optional(table, "no-load", "W", "0.05 W"),
            QuantityText.Optional(table, "no-load-within", "W", "0.02 W"))
        {
            OutputW = QuantityText.Optional(table, "output", "W", "20 W"),
            Kind = table.Choice("kind", Supplies),
            Outputs = OutputsOf(table),
        };
        table.Finish();
        return adapter;
    }

    private static int? OutputsOf(TomlTableReader table) => table.Number("outputs", 1, 100) is not { } number ? null
        : number == Math.Floor(number) ? (int)number
        : throw table.Refuse(table.LineOf("outputs"),
            InvariantText.Of(
                $"{table.PathOf("outputs")} is {number}; the number of outputs that give power at the same time was expected, a whole "
            + $"number from 1"));

    public static CarbonFactor Carbon(TomlTableReader table)
    {
        var carbon = new CarbonFactor(table.Number("grams-per-kwh", 0), table.Text("hourly") is { } file
            ? new PriceFile(file)
            : null, table.Number("within", 0, 100));
        table.Finish();
        return carbon;
    }
}
