using System.Globalization;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads values with a unit, such as <c>15.4 Wh</c>, from a study file.</summary>
internal static class QuantityText
{
    public static readonly IReadOnlyDictionary<string, double> EnergyWh = new Dictionary<string, double>
    { ["Wh"] = 1, ["mWh"] = 1e-3, ["kWh"] = 1e3, ["J"] = 1 / 3600.0, ["kJ"] = 1 / 3.6 };

    public static readonly IReadOnlyDictionary<string, double> PowerW = new Dictionary<string, double>
    { ["W"] = 1, ["mW"] = 1e-3, ["kW"] = 1e3 };

    public static readonly IReadOnlyDictionary<string, double> ResistanceOhm = new Dictionary<string, double>
    { ["ohm"] = 1, ["\u03A9"] = 1, ["\u2126"] = 1, ["mohm"] = 1e-3, ["m\u03A9"] = 1e-3, ["m\u2126"] = 1e-3 };

    public static readonly IReadOnlyDictionary<string, double> TimeS = new Dictionary<string, double>
    { ["s"] = 1, ["ms"] = 1e-3, ["min"] = 60, ["h"] = 3600 };

    public static readonly IReadOnlyDictionary<string, double> LengthMm = new Dictionary<string, double>
    { ["mm"] = 1, ["cm"] = 10, ["m"] = 1000, ["um"] = 1e-3, ["\u00B5m"] = 1e-3, ["\u03BCm"] = 1e-3, ["in"] = 25.4 };

    public static readonly IReadOnlyDictionary<string, double> AngleDeg = new Dictionary<string, double>
    { ["deg"] = 1, ["\u00B0"] = 1, ["rad"] = 180 / Math.PI };

    public static readonly IReadOnlyDictionary<string, double> TemperatureC = new Dictionary<string, double>
    { ["\u00B0C"] = 1, ["degC"] = 1, ["\u2103"] = 1 };

    public static double? Optional(TomlTableReader table, string key, IReadOnlyDictionary<string, double> units, string example) =>
        table.Text(key) is { } text ? Parse(table, key, text, units, example) : null;

    /// <summary>The same for what may lie below zero, such as an offset or a temperature.</summary>
    public static double? OptionalSigned(TomlTableReader table, string key, IReadOnlyDictionary<string, double> units, string example) =>
        table.Text(key) is { } text ? Parse(table, key, text, units, example, double.NegativeInfinity) : null;

    public static double Parse(TomlTableReader table, string key, string text, IReadOnlyDictionary<string, double> units, string example, double least = 0)
    {
        // A minus sign as typesetters write it means the same.
        text = text.Replace('\u2212', '-');
        int split = text.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '+' or '-' or 'e' or 'E').Count();
        string unit = text[split..].Trim();
        return double.TryParse(text[..split], NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
                && double.IsFinite(number) && number >= least && units.TryGetValue(unit, out double factor)
            ? number * factor
            : throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} is \"{text}\"; a value with its unit was expected, such as \"{example}\" (units known here: {string.Join(", ", units.Keys)})");
    }
}
