using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A tariff in words.</summary>
public static class TariffText
{
    /// <summary>All parts of a tariff as one sentence.</summary>
    /// <param name="tariff">The tariff; null: none.</param>
    public static string Of(Tariff? tariff)
    {
        if (tariff is null)
        {
            return "No price is given, so no cost is worked out.";
        }

        string unit = $"{tariff.Currency} per kWh";
        var parts = new List<string>();
        if (tariff.Hourly is { } file)
        {
            parts.Add($"prices by the hour from {file.File}");
        }
        else if (tariff.Periods.Count > 0)
        {
            var prices = tariff.Periods.Select(p => p.PricePerKwh).Concat(tariff.PricePerKwh is { } other ? [other] : []).ToList();
            parts.Add(
                Prose.Of(
                    $"prices by weekday and hour, from {prices.Min():0.#####} to {prices.Max():0.#####} {unit} ({tariff.TimeZone})"));
        }
        else if (tariff.PricePerKwh is { } flat)
        {
            parts.Add(Prose.Of($"{flat:0.#####} {unit}"));
        }

        if (tariff.Tiers.Count > 0)
        {
            parts.Add(
                Prose.Of(
                    $"{tariff.Tiers.Count} tiers by the month's consumption, from {tariff.Tiers.Min(t => t.PricePerKwh):0.#####} to "
                + $"{tariff.Tiers.Max(t => t.PricePerKwh):0.#####} {unit}"));
        }

        if (tariff.SurchargePerKwh != 0)
        {
            parts.Add(Prose.Of($"{tariff.SurchargePerKwh:0.#####} {unit} on top"));
        }

        parts.Add(tariff.TaxPercent == 0 ? "tax included" : Prose.Of($"plus {tariff.TaxPercent:0.##} % tax"));
        if (tariff.FixedPerMonth is { } perMonth)
        {
            parts.Add(Prose.Of($"a fixed {perMonth:0.##} {tariff.Currency} a month, which no charger changes"));
        }

        parts.Add(tariff.PriceWithinPercent is > 0
            ? Prose.Of($"the price level known within {tariff.PriceWithinPercent:0.##} %")
            : "taken as exact");
        string ended = Currency.Of(tariff.Currency).Ended is { } sentence ? $" {sentence}" : "";
        return $"Price of energy: {string.Join("; ", parts)}.{ended}";
    }
}
