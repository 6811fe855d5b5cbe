using System.Globalization;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// Measured figures as plain text: <c>19.80 Wh (19.61 to 19.99)</c>. The half-width of the 95 % interval gets two significant digits and
/// the value as many places as that; without an uncertainty the value gets three significant digits and no interval.
/// Money with a known uncertainty has its currency's digits instead.
/// <i>Source:</i> JCGM 100:2008, 7.2.6 (at most two significant digits of an uncertainty, the value to match).
/// </summary>
public static class FigureText
{
    private const int DigitsWithoutUncertainty = 3;
    private const int MostDigits = 10;

    /// <summary>Value, unit and, where known, the 95 % interval.</summary>
    public static string Of(Measured figure) => Interval(figure) is { } interval ? $"{Value(figure)} ({interval})" : Value(figure);

    /// <summary>The same for a figure that may be missing; then <c>not known</c> and the reason.</summary>
    public static string Of(Figure figure) => figure.Value is { } value ? Of(value) : $"not known: {figure.WhyNot}";

    /// <summary>Value and unit.</summary>
    public static string Value(Measured figure) => WithUnit(Digits(figure.Value, PlacesOf(figure)), figure.Unit);

    /// <summary>Both ends of the 95 % interval, without unit; null where there is none. An interval that lacks an end is put in
    /// words.</summary>
    public static string? Interval(Measured figure)
    {
        if (figure.Interval() is not { } interval || !(interval.High > interval.Low))
        {
            return null;
        }

        int places = PlacesOf(figure);
        return (double.IsFinite(interval.Low), double.IsFinite(interval.High)) switch
        {
            (true, true) => $"{Digits(interval.Low, places)} to {Digits(interval.High, places)}",
            (true, false) => $"{Digits(interval.Low, places)} or more",
            (false, true) => $"{Digits(interval.High, places)} or less",
            _ => "without bounds",
        };
    }

    /// <summary>A plain number with a number of significant digits.</summary>
    /// <param name="value">The number.</param>
    /// <param name="unit">Its unit; <c>1</c> or empty for none.</param>
    /// <param name="significant">How many significant digits.</param>
    public static string Plain(double value, string unit, int significant = DigitsWithoutUncertainty) =>
        WithUnit(Digits(value, Currency.Find(unit) is { } currency ? MoneyPlaces(value, currency) : PlacesFor(value, significant)), unit);

    /// <summary>What a ratio is above one, in per cent; its interval is the ratio's own, shifted.</summary>
    public static Measured Overhead(Measured ratio)
    {
        var above = ratio - Measured.Exact(1, ratio.Unit);
        var shifted = ratio.StandardUncertainty is null
            ? above
            : above.WithInterval(coverage => ratio.Interval(coverage) is { } i ? i with { Low = i.Low - 1, High = i.High - 1 } : default);
        return Percent(shifted);
    }

    /// <summary>What a ratio is below one, in per cent: the overhead with its sign turned.</summary>
    public static Measured Saving(Measured ratio)
    {
        var below = Measured.Exact(1, ratio.Unit) - ratio;
        var shifted = ratio.StandardUncertainty is null
            ? below
            : below.WithInterval(coverage => ratio.Interval(coverage) is { } i ? i with { Low = 1 - i.High, High = 1 - i.Low } : default);
        return Percent(shifted);
    }

    /// <summary>A pure number in per cent.</summary>
    public static Measured Percent(Measured share) => share.In("%", 100);

    /// <summary>The median of a simulation with its interval, so that the limit on figures without one does not hold.</summary>
    public static string Draws(MonteCarloInterval drawn, string unit) =>
        $"{Plain(drawn.Median, unit, 4)} ({Plain(drawn.Low, "", 4)} to {Plain(drawn.High, "", 4)})";

    /// <summary>A count, digits grouped by thin gaps that keep it in one piece.</summary>
    public static string Count(long count) => WrittenMarks.Count(count);

    /// <summary>A length of time in the units a person would use: <c>2 h 05 min</c>, <c>45 s</c>.</summary>
    /// <param name="seconds">The length. [s]</param>
    public static string Duration(double seconds)
    {
        if (!double.IsFinite(seconds))
        {
            return "not known";
        }

        if (Math.Abs(seconds) < 90)
        {
            return Plain(seconds, "s", 3);
        }

        long minutes = (long)Math.Round(seconds / 60);
        return minutes < 60
            ? InvariantText.Of($"{minutes} min")
            : Prose.Of($"{minutes / 60} h {minutes % 60:00} min");
    }

    private static int PlacesOf(Measured figure)
    {
        if (Currency.Find(figure.Unit) is { } currency)
        {
            // A sum of less than a hundred of the least coin still shows an interval whose half-width is less than one coin.
            int ofMoney = MoneyPlaces(figure.Value, currency);
            if (figure.Interval() is null && figure.Value != 0)
            {
                return Math.Min(ofMoney, PlacesFor(figure.Value, DigitsWithoutUncertainty));
            }

            bool isSmall = Math.Abs(figure.Value) < Math.Pow(10, 2 - currency.Digits);
            return isSmall && figure.Interval() is { } sure && sure.High - sure.Low is > 0 and < double.PositiveInfinity and var apart
                && 0.5 * apart < Math.Pow(10, -ofMoney)
                ? Math.Max(ofMoney, PlacesFor(0.5 * apart, 1)) : ofMoney;
        }

        if (figure.Interval() is { } interval && interval.High - interval.Low is > 0 and < double.PositiveInfinity and var width)
        {
            return Math.Min(PlacesFor(0.5 * width, 2), Math.Max(PlacesFor(figure.Value, MostDigits), 0));
        }

        return PlacesFor(figure.Value, DigitsWithoutUncertainty);
    }

    // Money has the digits of its currency (ISO 4217); a sum of less than ten of its least coin keeps two significant ones, or it would be
    // lost.
    private static int MoneyPlaces(double value, Currency currency) => value == 0
        ? currency.Digits
        : Math.Max(currency.Digits, PlacesFor(value, 2));

    /// <summary>Decimal places that leave this many significant digits; negative: tens, hundreds …</summary>
    private static int PlacesFor(double value, int significant)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return 0;
        }

        int places = significant - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));

        // 0.0996 to two digits is 0.10, which has one place fewer than 0.099.
        bool roundsUp = Math.Abs(value) * Math.Pow(10, places) >= Math.Pow(10, significant) - 0.5;
        return Math.Min(roundsUp ? places - 1 : places, 15);
    }

    private static string Digits(double value, int places)
    {
        if (!double.IsFinite(value))
        {
            return "not a number";
        }

        double step = Math.Pow(10, -places);
        double rounded = places >= 0 ? Math.Round(value, Math.Min(places, 15), MidpointRounding.AwayFromZero)
            : Math.Round(value / step, MidpointRounding.AwayFromZero) * step;
        string text = rounded.ToString("F" + Math.Max(places, 0).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return WrittenMarks.Number(rounded == 0 ? text.TrimStart('-') : text);
    }

    private static string WithUnit(string number, string unit) => unit is "1" or "" ? number : $"{number} {unit}";
}
