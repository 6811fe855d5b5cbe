using ChargeAudit.Comparing.Auditing.Doubts;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Auditing.Doubts;

public sealed class UnlikelyPriceTests
{
    [Theory]
    [InlineData("EUR", 30, "such as 0.3.")]
    [InlineData("EUR", 300, "such as 0.3.")]
    [InlineData("JPY", 3000, "such as 30.")]
    public void A_price_in_cents_or_for_a_megawatt_hour_is_doubted(string currency, double price, string meant)
    {
        string doubt = Assert.Single(UnlikelyPrice.Of(new Tariff(currency, price)));
        Assert.Contains(meant, doubt, StringComparison.Ordinal);
        Assert.Contains("per kWh", doubt, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("EUR", 0.30)]
    [InlineData("EUR", 1.5)]
    [InlineData("JPY", 31)]
    [InlineData("HUF", 70)]
    [InlineData("XXX", 1e6)]
    public void A_price_that_somebody_pays_is_not(string currency, double price) =>
        Assert.Empty(UnlikelyPrice.Of(new Tariff(currency, price)));

    [Fact]
    public void Periods_tiers_surcharges_and_no_tariff_are_looked_at_too()
    {
        Assert.Empty(UnlikelyPrice.Of(null));
        Assert.Single(UnlikelyPrice.Of(new Tariff("EUR", 0.3) { Periods = [new TariffPeriod { PricePerKwh = 40 }] }));
        Assert.Single(UnlikelyPrice.Of(new Tariff("EUR") { Tiers = [new TariffTier(null, 25)] }));
        Assert.Single(UnlikelyPrice.Of(new Tariff("EUR", 0.3) { SurchargePerKwh = 9 }));
    }
}
