using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>What a year of use takes at the wall.</summary>
/// <param name="Energy">[kWh]</param>
/// <param name="Cost">In the tariff's currency; missing where there is no price.</param>
/// <param name="ByMode">The same by mode; the hours add up to the year's. A mode that cannot be worked out is missing with its reason, and
/// then so is the total; empty where not even the hours are known.</param>
public sealed record YearResult(Figure Energy, Figure Cost, IReadOnlyList<YearModeResult> ByMode)
{
    /// <summary>What else a year holds: shares, savings, what moves the result; null where the hours are not known.</summary>
    public YearDetail? Detail { get; init; }
}

/// <summary>A mode's share of a year.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="HoursPerYear">[h]</param>
/// <param name="Energy">[kWh]</param>
/// <param name="Cost">In the tariff's currency.</param>
public sealed record YearModeResult(Mode Mode, double HoursPerYear, Figure Energy, Figure Cost);
