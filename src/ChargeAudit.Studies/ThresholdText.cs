using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies;

/// <summary>Reads the threshold of a logger that writes on change, such as <c>0.5 W</c>, <c>20 mA</c> or <c>5 %</c>.</summary>
public static class ThresholdText
{
    /// <summary>What was expected, as a clause without a full stop.</summary>
    public const string Expected = "the change that gives a new row was expected, such as \"0.5 W\", \"20 mA\" or \"5 %\" of the reading";

    private static readonly Dictionary<string, (LogQuantity Quantity, double Factor, bool IsShare)> Units = new(StringComparer.Ordinal)
    {
        ["W"] = (LogQuantity.Power, 1, false),
        ["mW"] = (LogQuantity.Power, 1e-3, false),
        ["A"] = (LogQuantity.Current, 1, false),
        ["mA"] = (LogQuantity.Current, 1e-3, false),
        ["%"] = (LogQuantity.Power, 0.01, true),
    };

    /// <summary>The threshold; null where the text is none.</summary>
    /// <param name="text">A number above zero with its unit.</param>
    public static ChangeThreshold? TryParse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        int split = text.TakeWhile(c => char.IsAsciiDigit(c) || c is '.').Count();
        return double.TryParse(text[..split], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number) && number > 0
            && double.IsFinite(number)
                && Units.TryGetValue(text[split..].Trim(), out var unit)
            ? new ChangeThreshold(unit.Quantity, number * unit.Factor, unit.IsShare)
            : null;
    }
}
