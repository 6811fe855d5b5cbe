using System.Globalization;

namespace ChargeAudit.Metrology.Units;

/// <summary>
/// Numbers with a unit, as people write them in studies, scenarios, data sheets and commands: <c>1.1mH</c>, <c>500 µW</c>,
/// <c>0.01 watt</c>, <c>25 min</c>, <c>0.5 %</c>. One reader for all, so that what is right in one place is right in every other.
/// </summary>
public static class ValueText
{
    /// <summary>Reads a value.</summary>
    /// <param name="text">The number, then the unit with or without a space and a prefix. The decimal sign is a point.</param>
    /// <param name="unit">The unit that is wanted, such as <c>H</c>, <c>Wh</c> or <c>mm</c>; <c>1</c> for pure numbers and shares.</param>
    /// <param name="value">The value in that unit; not a number where there is none.</param>
    /// <param name="hint">What may be wrong with the unit, as a clause; null where there is nothing to say.</param>
    /// <returns>Whether it could be read. A missing unit, one that measures something else and a number that is not finite
    /// cannot.</returns>
    /// <exception cref="ArgumentException">The unit wanted is not known.</exception>
    public static bool TryParse(string text, string unit, out double value, out string? hint)
    {
        ArgumentNullException.ThrowIfNull(text);
        value = double.NaN;
        hint = null;
        var wanted = Wanted(unit);

        // A minus sign as typesetters write it means the same.
        string trimmed = text.Trim().Replace('\u2212', '-');
        int end = NumberLength(trimmed);
        if (!double.TryParse(trimmed.AsSpan(0, end), NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            || !NumberLimits.CanBeMeant(number))
        {
            return false;
        }

        if (!UnitTable.TryFind(trimmed[end..], wanted.Kind, out var found))
        {
            hint = UnitTable.Hint(trimmed[end..], wanted.Kind);
            return false;
        }

        value = found.Offset == wanted.Offset
            ? Scaled(number, found.Factor / wanted.Factor)
            : (found.Coherent(number) - wanted.Offset) / wanted.Factor;
        value = NumberLimits.Meant(value);
        return NumberLimits.CanBeMeant(value);
    }

    /// <summary>Reads a value where no hint is needed.</summary>
    /// <inheritdoc cref="TryParse(string, string, out double, out string?)"/>
    public static bool TryParse(string text, string unit, out double value) => TryParse(text, unit, out value, out _);

    private static Unit Wanted(string unit)
    {
        foreach (var kind in Enum.GetValues<UnitKind>())
        {
            if (UnitTable.TryFind(unit, kind, out var found) && (unit != "C" || kind == UnitKind.Charge))
            {
                return found;
            }
        }

        throw new ArgumentException($"{unit} is no unit that is known here", nameof(unit));
    }

    // Dividing by a whole number rounds once; a product with 1e-9 would round twice.
    private static double Scaled(double number, double factor) => factor < 1 && IsWhole(1 / factor)
        ? number / Math.Round(1 / factor)
        : number * factor;

    private static bool IsWhole(double inverse) => Math.Abs(inverse - Math.Round(inverse)) <= 1e-9 * inverse;

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
}
