using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing.Doubts;

/// <summary>
/// A price that looks like one per 100 kWh, per MWh or in cents: at least ten times what a household pays for a kilowatt-hour where it is
/// dearest. Currencies without a row are not doubted.
/// </summary>
public static class UnlikelyPrice
{
    private const double Factor = 10;

    // Dearest household price of a kilowatt-hour, tax included, rounded up. From memory, common practice, no source: only its order of
    // magnitude matters.
    private static readonly Dictionary<string, double> DearestPerKwh = new(StringComparer.Ordinal)
    {
        ["EUR"] = 0.6,
        ["USD"] = 0.6,
        ["GBP"] = 0.6,
        ["CHF"] = 0.6,
        ["CAD"] = 0.6,
        ["AUD"] = 0.8,
        ["NZD"] = 0.8,
        ["SGD"] = 0.6,
        ["KWD"] = 0.1,
        ["DKK"] = 5,
        ["SEK"] = 5,
        ["NOK"] = 5,
        ["PLN"] = 2,
        ["CZK"] = 12,
        ["HUF"] = 150,
        ["RON"] = 3,
        ["TRY"] = 15,
        ["JPY"] = 60,
        ["KRW"] = 500,
        ["CNY"] = 2,
        ["INR"] = 20,
        ["BRL"] = 2,
        ["MXN"] = 10,
        ["ZAR"] = 8,
    };

    /// <summary>The doubt; none where every price is likely.</summary>
    /// <param name="tariff">The tariff; null: none.</param>
    public static IEnumerable<string> Of(Tariff? tariff)
    {
        if (Found(tariff) is { } found)
        {
            yield return Prose.Of(
                $"A price of {found.Greatest:0.####} {tariff!.Currency} for a kilowatt-hour is at least ten times what households pay "
                    + $"anywhere (about {found.Dearest:0.##} at most): give it in {tariff.Currency} per kWh, such as "
                    + $"{found.Meant:0.####}.");
        }
    }

    /// <summary>The price that was probably meant, in the tariff's currency per kWh; null where every price is likely.</summary>
    /// <param name="tariff">The tariff; null: none.</param>
    public static double? Meant(Tariff? tariff) => Found(tariff)?.Meant;

    private static (double Greatest, double Dearest, double Meant)? Found(Tariff? tariff)
    {
        if (tariff is null || !DearestPerKwh.TryGetValue(tariff.Currency.Trim().ToUpperInvariant(), out double dearest))
        {
            return null;
        }

        double tax = 1 + (tariff.TaxPercent / 100);
        double greatest = tax * new[] { tariff.PricePerKwh ?? 0, tariff.SurchargePerKwh }.Concat(tariff.Periods.Select(p => p.PricePerKwh))
            .Concat(tariff.Tiers.Select(t => t.PricePerKwh)).Max();
        return greatest < Factor * dearest ? null
            : (greatest, dearest, greatest / 100 <= dearest ? greatest / 100 : greatest / 1000);
    }
}
