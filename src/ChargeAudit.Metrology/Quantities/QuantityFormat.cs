using System.Globalization;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// Measured values as people read them: two significant digits of the uncertainty, the value to the same place, one prefix for all of it.
/// Invariant
/// culture throughout. The uncertainty that sets the digits is half the interval shown, since that is what the reader sees.
/// <i>Source:</i> JCGM 100:2008, 7.2.6 (at most two significant digits of the uncertainty, estimates rounded to be consistent with it).
/// </summary>
public static class QuantityFormat
{
    private const int DigitsWithoutUncertainty = 4;

    private static readonly Dictionary<string, double> Prefixes = new() { ["µ"] = 1e-6, ["m"] = 1e-3, [""] = 1, ["k"] = 1e3, ["M"] = 1e6 };

    private static readonly HashSet<string> Prefixable = ["W", "Wh", "V", "A", "Ah", "J", "C", "VA", "Ω", "Hz"];

    /// <summary>Value and interval: <c>1.500 (1.485 to 1.515)</c>, <c>13.18 Wh (13.11 to 13.25)</c>; says so where the uncertainty is
    /// unknown.</summary>
    /// <param name="measured">The figure.</param>
    /// <param name="coverage">Probability that the interval holds the true value, 0 to 1. [1]</param>
    public static string WithInterval(Measured measured, double coverage = 0.95) => measured.Interval(coverage) is { } interval
        ? WithInterval(measured.Value, interval.Low, interval.High, measured.Unit)
        : Value(measured) + " (uncertainty unknown)";

    /// <summary>Value and interval from bare numbers, which need not lie symmetrically.</summary>
    /// <param name="value">The value, in <paramref name="unit"/>.</param>
    /// <param name="low">Lower end, in <paramref name="unit"/>.</param>
    /// <param name="high">Upper end, in <paramref name="unit"/>.</param>
    /// <param name="unit">Symbol of the unit; <c>1</c> for a pure number.</param>
    public static string WithInterval(double value, double low, double high, string unit)
    {
        var (factor, symbol) = Scale(Math.Max(Math.Abs(value), 0.5 * (high - low)), unit);
        int decimals = Decimals(0.5 * (high - low) * factor);
        return $"{Number(value * factor, decimals)}{Suffix(symbol)} ({Number(low * factor, decimals)} to {Number(high * factor, decimals)})";
    }

    /// <summary>Value and half-width: <c>13.18 ± 0.071 Wh</c> becomes <c>13.180 ± 0.071 Wh</c>; says so where the uncertainty is
    /// unknown.</summary>
    /// <param name="measured">The figure.</param>
    /// <param name="coverage">Probability that the interval holds the true value, 0 to 1. [1]</param>
    public static string PlusMinus(Measured measured, double coverage = 0.95)
    {
        if (measured.Interval(coverage) is not { } interval)
        {
            return Value(measured) + " (uncertainty unknown)";
        }

        double half = 0.5 * (interval.High - interval.Low);
        var (factor, symbol) = Scale(Math.Max(Math.Abs(measured.Value), half), measured.Unit);
        int decimals = Decimals(half * factor);
        return $"{Number(measured.Value * factor, decimals)} ± {Number(half * factor, decimals)}{Suffix(symbol)}";
    }

    /// <summary>The value alone, to the place that its 95 % uncertainty allows: <c>13.18 Wh</c>.</summary>
    public static string Value(Measured measured)
    {
        double half = measured.Interval() is { } interval ? 0.5 * (interval.High - interval.Low) : 0;
        var (factor, symbol) = Scale(Math.Max(Math.Abs(measured.Value), half), measured.Unit);
        return half > 0
            ? Number(measured.Value * factor, Decimals(half * factor)) + Suffix(symbol)
            : Significant(measured.Value * factor, DigitsWithoutUncertainty) + Suffix(symbol);
    }

    /// <summary>A bare number with unit and a fitting prefix: 0.0123 W is <c>12.3 mW</c>.</summary>
    /// <param name="value">The value, in <paramref name="unit"/>.</param>
    /// <param name="unit">Symbol of the unit; <c>1</c> for a pure number.</param>
    /// <param name="significantDigits">Digits kept; trailing zeros after the point are dropped.</param>
    public static string Prefixed(double value, string unit, int significantDigits = DigitsWithoutUncertainty)
    {
        var (factor, symbol) = Scale(Math.Abs(value), unit);
        string number = Significant(value * factor, significantDigits);
        return (number.Contains('.', StringComparison.Ordinal) ? number.TrimEnd('0').TrimEnd('.') : number) + Suffix(symbol);
    }

    /// <summary>Decimals that show an uncertainty with two significant digits; negative where whole tens, hundreds … are meant.</summary>
    /// <param name="uncertainty">The uncertainty, greater than zero.</param>
    public static int Decimals(double uncertainty)
    {
        if (!(uncertainty > 0) || double.IsInfinity(uncertainty))
        {
            return DigitsWithoutUncertainty;
        }

        int exponent = (int)Math.Floor(Math.Log10(uncertainty));
        // 0.0996 has the two digits 0.10, one place further left than its logarithm says.
        bool carries = Math.Round(uncertainty / Math.Pow(10, exponent - 1)) >= 100;
        return 1 - exponent - (carries ? 1 : 0);
    }

    private static (double Factor, string Symbol) Scale(double magnitude, string unit)
    {
        if (!Prefixable.Contains(unit) || magnitude == 0 || !double.IsFinite(magnitude))
        {
            return (1, unit);
        }

        string prefix = magnitude switch
        {
            >= 1e6 => "M",
            >= 1e3 => "k",
            >= 0.1 => "",
            >= 1e-4 => "m",
            _ => "µ",
        };
        return (1 / Prefixes[prefix], prefix + unit);
    }

    private static string Number(double value, int decimals)
    {
        if (decimals < 0)
        {
            double place = Math.Pow(10, -decimals);
            return Unsigned(Math.Round(value / place) * place).ToString("F0", CultureInfo.InvariantCulture);
        }

        int shown = Math.Min(decimals, 15);
        double visible = Math.Abs(value) < 0.5 * Math.Pow(10, -shown) ? 0 : value;
        return visible.ToString("F" + shown.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    private static string Significant(double value, int digits) =>
        value == 0 ? "0" : Number(value, digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))));

    // A minus sign before zero says nothing and puzzles.
    private static double Unsigned(double value) => value == 0 ? 0 : value;

    private static string Suffix(string symbol) => symbol is "1" or "" ? "" : symbol == "%" ? " %" : " " + symbol;
}
