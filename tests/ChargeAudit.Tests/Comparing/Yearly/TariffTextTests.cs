using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class TariffTextTests
{
    // Bulgaria has used the euro since 1 January 2026.
    [Fact]
    public void A_currency_that_has_ended_is_said_to_have_ended() => Assert.Equal(
        "Price of energy: 0.25 BGN per kWh; tax included; taken as exact. BGN ended on 2026-01-01 and EUR took its place; a price of today "
            + "is in EUR.",
        TariffText.Of(new Tariff("BGN", 0.25)));

    [Fact]
    public void A_tariff_is_told_with_all_its_parts()
    {
        Assert.Equal("No price is given, so no cost is worked out.", TariffText.Of(null));
        Assert.Equal("Price of energy: 0.3 EUR per kWh; tax included; taken as exact.", TariffText.Of(new Tariff("EUR", 0.30)));
        var periods = new Tariff("EUR", 0.20)
        {
            TimeZone = "Europe/Lisbon",
            Periods = [new TariffPeriod { From = new TimeOnly(8, 0), To = new TimeOnly(22, 0), PricePerKwh = 0.35 }],
            SurchargePerKwh = 0.05,
            TaxPercent = 23,
            FixedPerMonth = 9.8,
            PriceWithinPercent = 10,
        };
        Assert.Equal(
            "Price of energy: prices by weekday and hour, from 0.2 to 0.35 EUR per kWh (Europe/Lisbon); 0.05 EUR per kWh on top; plus 23 "
                + "% tax; "
            + "a fixed 9.8 EUR a month, which no charger changes; the price level known within 10 %.",
            TariffText.Of(periods));
        Assert.Contains("hour from p.csv", TariffText.Of(new Tariff("EUR") { Hourly = new PriceFile("p.csv") }), StringComparison.Ordinal);
        Assert.Contains("2 tiers by the month's consumption, from 0.1 to 0.2",
            TariffText.Of(new Tariff("EUR") { Tiers = [new TariffTier(100, 0.1), new TariffTier(null, 0.2)] }), StringComparison.Ordinal);
    }
}
