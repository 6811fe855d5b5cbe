using System.Globalization;
using ChargeAudit.Analysis.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>A tariff in words.</summary>
internal static class TariffText
{
    /// <summary>What a kilowatt-hour costs and when, as one sentence.</summary>
    public static string Of(Tariff tariff)
    {
        var parts = new List<string>();
        if (tariff.Hourly is { } file)
        {
            parts.Add($"by the hour from {file.File}");
        }

        if (tariff.Periods.Count > 0)
        {
            parts.Add($"{string.Join("; ", tariff.Periods.Select(p => Period(p, tariff.Currency)))}");
        }

        if (tariff.PricePerKwh is { } flat)
        {
            parts.Add(Amount(flat, tariff.Currency) + (tariff.Periods.Count > 0 ? " at all other hours" : ""));
        }

        if (tariff.Tiers.Count > 0)
        {
            parts.Add("by the household's consumption in a month: " + string.Join(", ", tariff.Tiers.Select(t => Amount(t.PricePerKwh, tariff.Currency)
                + (t.UpToKwhPerMonth is { } kwh ? string.Create(CultureInfo.InvariantCulture, $" up to {kwh:0.##} kWh") : " beyond"))));
        }

        if (tariff.SurchargePerKwh != 0)
        {
            parts.Add("plus " + Amount(tariff.SurchargePerKwh, tariff.Currency));
        }

        if (tariff.TaxPercent != 0)
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"plus {tariff.TaxPercent:0.##} % tax"));
        }

        string certainty = tariff.PriceWithinPercent is { } within ? string.Create(CultureInfo.InvariantCulture, $"known within {within:0.##} %") : "taken as exact";
        return $"Price of energy: {string.Join(", ", parts)}, {certainty}.";
    }

    private static string Amount(double price, string currency) => string.Create(CultureInfo.InvariantCulture, $"{price:0.######} {currency} per kWh");

    private static string Period(TariffPeriod period, string currency)
    {
        string days = period.Days.Count == 0 ? "every day" : string.Join(", ", period.Days);
        string hours = period.From == period.To ? "" : string.Create(CultureInfo.InvariantCulture, $" from {period.From:HH:mm} to {period.To:HH:mm}");
        string season = period is { SeasonFrom: { } from, SeasonTo: { } to }
            ? string.Create(CultureInfo.InvariantCulture, $", {from.Month:00}-{from.Day:00} to {to.Month:00}-{to.Day:00}")
            : "";
        return $"{Amount(period.PricePerKwh, currency)} {days}{hours}{season}";
    }
}
