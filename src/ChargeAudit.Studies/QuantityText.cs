using ChargeAudit.Metrology.Units;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads values with a unit, such as <c>15.4 Wh</c>, from a study file.</summary>
internal static class QuantityText
{
    public static double? Optional(TomlTableReader table, string key, string unit, string example) =>
        table.Text(key) is { } text ? Parse(table, key, text, unit, example) : null;

    /// <summary>The same for what may lie below zero, such as an offset or a temperature.</summary>
    public static double? OptionalSigned(TomlTableReader table, string key, string unit, string example) =>
        table.Text(key) is { } text ? Parse(table, key, text, unit, example, double.NegativeInfinity) : null;

    public static double Parse(TomlTableReader table, string key, string text, string unit, string example, double least = 0)
    {
        return ValueText.TryParse(text, unit, out double value, out string? hint) && value >= least
            ? value
            : throw table.Refuse(table.LineOf(key),
                $"{table.PathOf(key)} is \"{text}\"; a value with its unit was expected, such as "
                + $"\"{example}\"{(hint is null ? "" : $" ({hint})")}");
    }
}
