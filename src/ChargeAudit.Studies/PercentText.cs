using System.Globalization;

namespace ChargeAudit.Studies;

/// <summary>Shares written in per cent, such as <c>2 %</c> or <c>2%</c>.</summary>
public static class PercentText
{
    /// <summary>Reads a share.</summary>
    /// <param name="text">The text.</param>
    /// <returns>The share, from 0 to below 1; null where the text is none. [1]</returns>
    public static double? Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string number = text.TrimEnd();
        return number.EndsWith('%')
            && double.TryParse(number[..^1], NumberStyles.AllowDecimalPoint | NumberStyles.AllowTrailingWhite | NumberStyles.AllowLeadingWhite, CultureInfo.InvariantCulture, out double percent)
            && percent < 100
            ? percent / 100
            : null;
    }
}
