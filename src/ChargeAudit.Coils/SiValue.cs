using System.Globalization;

namespace ChargeAudit.Coils;

/// <summary>Numbers with a unit and an SI prefix, as people write them: <c>1.1mH</c>, <c>100 nF</c>, <c>127.7 kHz</c>, <c>25 min</c>, <c>0.5 %</c>.</summary>
public static class SiValue
{
    private static readonly (string Symbol, double Factor)[] Prefixes =
        [("p", 1e-12), ("n", 1e-9), ("u", 1e-6), ("µ", 1e-6), ("μ", 1e-6), ("m", 1e-3), ("k", 1e3), ("M", 1e6), ("G", 1e9)];

    /// <summary>Spellings beside the symbol itself. Minutes and hours take no prefix.</summary>
    private static readonly (string Unit, string Spelling, double Factor, bool TakesPrefix)[] Spellings =
    [
        ("Ω", "ohm", 1, true), ("Ω", "Ohm", 1, true), ("s", "min", 60, false), ("s", "h", 3600, false), ("s", "d", 86400, false),
        ("1", "%", 0.01, false), ("1", "ppm", 1e-6, false), ("1", "", 1, false), ("°C", "C", 1, false), ("°C", "°C", 1, false), ("K/W", "K/W", 1, false),
    ];

    /// <summary>Reads a value.</summary>
    /// <param name="text">The number, then the unit with or without a space and a prefix.</param>
    /// <param name="unit">The coherent unit that is wanted, such as <c>H</c>, <c>Ω</c> or <c>s</c>; <c>1</c> for pure numbers and shares.</param>
    /// <param name="value">The value in that unit.</param>
    /// <returns>Whether it could be read. A missing unit, another unit and a number that is not finite cannot.</returns>
    public static bool TryParse(string text, string unit, out double value)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(unit);
        value = double.NaN;
        string trimmed = text.Trim();
        int end = NumberLength(trimmed);
        if (!double.TryParse(trimmed.AsSpan(0, end), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number))
        {
            return false;
        }

        if (Factor(trimmed[end..].Trim(), unit) is not { } factor)
        {
            return false;
        }

        // Dividing by a whole number rounds once; a product with 1e-9 would round twice.
        value = factor < 1 ? number / Math.Round(1 / factor) : number * factor;
        return true;
    }

    /// <summary>Writes a value with the prefix that leaves one to three digits before the point.</summary>
    /// <param name="value">The value in the coherent unit.</param>
    /// <param name="unit">The unit's symbol.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    /// <returns>Such as <c>15.17 kHz</c>.</returns>
    public static string Format(double value, string unit, int digits = 4)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return string.Create(CultureInfo.InvariantCulture, $"{value} {unit}");
        }

        double rounded = double.Parse(value.ToString("E" + (digits - 1).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        string prefix = "";
        double factor = 1;
        foreach ((string symbol, double size) in (ReadOnlySpan<(string, double)>)[("p", 1e-12), ("n", 1e-9), ("µ", 1e-6), ("m", 1e-3), ("", 1), ("k", 1e3), ("M", 1e6), ("G", 1e9)])
        {
            if (Math.Abs(rounded) >= size * (1 - 1e-12) || size == 1e-12)
            {
                (prefix, factor) = (symbol, size);
            }
        }

        double scaled = rounded / factor;
        int before = Math.Abs(scaled) switch { >= 99.9999999 => 3, >= 9.99999999 => 2, _ => 1 };
        string format = "F" + Math.Max(0, digits - before).ToString(CultureInfo.InvariantCulture);
        return scaled.ToString(format, CultureInfo.InvariantCulture) + " " + prefix + unit;
    }

    private static int NumberLength(string text)
    {
        int i = 0;
        while (i < text.Length && (char.IsAsciiDigit(text[i]) || text[i] is '.' or '+' or '-' || IsExponent(text, i)))
        {
            i++;
        }

        return i;
    }

    private static bool IsExponent(string text, int i) =>
        text[i] is 'e' or 'E' && i > 0 && i + 1 < text.Length && (char.IsAsciiDigit(text[i + 1]) || text[i + 1] is '+' or '-');

    private static double? Factor(string written, string unit)
    {
        if (written == unit)
        {
            return 1;
        }

        foreach ((string wanted, string spelling, double factor, bool takesPrefix) in Spellings)
        {
            if (wanted == unit && written == spelling)
            {
                return factor;
            }

            if (wanted == unit && takesPrefix && PrefixFactor(written, spelling) is { } spelled)
            {
                return spelled * factor;
            }
        }

        return unit is "1" or "°C" or "K/W" ? null : PrefixFactor(written, unit);
    }

    private static double? PrefixFactor(string written, string unit)
    {
        foreach ((string symbol, double factor) in Prefixes)
        {
            if (written == symbol + unit)
            {
                return factor;
            }
        }

        return null;
    }
}
