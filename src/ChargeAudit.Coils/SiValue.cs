using System.Globalization;
using ChargeAudit.Metrology;

namespace ChargeAudit.Coils;

/// <summary>Writes numbers with a unit and an SI prefix, such as <c>127.7 kHz</c>.</summary>
public static class SiValue
{
    /// <summary>Writes a value with the prefix that leaves one to three digits before the point.</summary>
    /// <param name="value">The value in the coherent unit.</param>
    /// <param name="unit">The unit's symbol.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    /// <returns>Such as <c>15.17 kHz</c>.</returns>
    public static string Format(double value, string unit, int digits = 4)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return Prose.Of($"{value} {unit}");
        }

        double rounded =
            double.Parse(value.ToString("E" + (digits - 1).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture),
            CultureInfo.InvariantCulture);
        string prefix = "";
        double factor = 1;
        foreach ((string symbol, double size) in (ReadOnlySpan<(string, double)>)[("p", 1e-12), ("n", 1e-9), ("µ", 1e-6), ("m", 1e-3),
            ("", 1), ("k", 1e3), ("M", 1e6), ("G", 1e9)])
        {
            if (Math.Abs(rounded) >= size * (1 - 1e-12) || size == 1e-12)
            {
                (prefix, factor) = (symbol, size);
            }
        }

        double scaled = rounded / factor;
        int before = Math.Abs(scaled) switch { >= 99.9999999 => 3, >= 9.99999999 => 2, _ => 1 };
        string format = "F" + Math.Max(0, digits - before).ToString(CultureInfo.InvariantCulture);
        return WrittenMarks.Number(scaled.ToString(format, CultureInfo.InvariantCulture)) + " " + prefix + unit;
    }
}
