using ChargeAudit.Metrology.Units;

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
        return text.TrimEnd().EndsWith('%') && ValueText.TryParse(text, "1", out double share) && share is >= 0 and < 1 ? share : null;
    }
}
