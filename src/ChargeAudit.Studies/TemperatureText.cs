using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads a temperature, such as <c>23 °C</c>, from a study file.</summary>
internal static class TemperatureText
{
    private const double LeastC = -40;
    private const double GreatestC = 85;

    /// <summary>The temperature; null where none is given. [°C]</summary>
    public static double? Optional(TomlTableReader table, string key)
    {
        if (table.Text(key) is not { } text)
        {
            return null;
        }

        return ValueText.TryParse(text, "°C", out double celsius) && celsius is >= LeastC and <= GreatestC
            ? celsius
            : throw table.Refuse(table.LineOf(key),
                InvariantText.Of(
                    $"{table.PathOf(key)} is \"{text}\"; a temperature from {LeastC} to {GreatestC} °C was expected, such as \"23 °C\""));
    }
}
