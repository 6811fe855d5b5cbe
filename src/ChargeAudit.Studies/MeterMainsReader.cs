using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads what a meter's table says about the mains: phase, power factor, and the limits within which its accuracy holds.</summary>
internal static class MeterMainsReader
{
    private const string Key = "phase";

    /// <summary>The statements of phase in a table of accuracies.</summary>
    public static IReadOnlyList<PhaseAccuracy> Phase(TomlTableReader accuracy, MeasuringPoint? point)
    {
        var texts = accuracy.Texts(Key);
        if (texts.Count > 0 && point is not (null or MeasuringPoint.Wall))
        {
            throw accuracy.Refuse(accuracy.LineOf(Key),
                $"{accuracy.PathOf(Key)} belongs to a meter on the mains, and this one sits at \"{MeterReader.WordOf(point.Value)}\"; "
                    + "leave it "
                + "out");
        }

        return [.. texts.Select(text => PhaseAccuracy.TryParse(text, out var read, out string? fault)
            ? read
            : throw accuracy.Refuse(accuracy.LineOf(Key), $"{accuracy.PathOf(Key)}: {fault}"))];
    }

    /// <summary>The power factor of what it measures, where its logs do not tell.</summary>
    public static double? PowerFactor(TomlTableReader meter) => Share(meter, "power-factor");

    /// <summary>Where its accuracy ends.</summary>
    public static MeterLimits Limits(TomlTableReader meter)
    {
        if (meter.Table("limits") is not { } table)
        {
            return new MeterLimits();
        }

        var limits = new MeterLimits
        {
            LeastPowerFactor = Share(table, "power-factor"),
            GreatestCrestFactor = table.Number("crest-factor", 1, 1000),
            StartingPowerW = QuantityText.Optional(table, "starting-power", "W", "0.4 W"),
        };
        table.Finish();
        return limits;
    }

    private static double? Share(TomlTableReader table, string key) => table.Number(key, 0, 1) is not { } share ? null
        : share > 0 ? share
        : throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} is 0; a power factor above 0 and up to 1 was expected, such as 0.5");
}
