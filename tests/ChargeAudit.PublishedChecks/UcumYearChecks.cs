using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// The Unified Code for Units of Measure, version 2.2 (17 June 2024), file ucum-essence.xml: the year <c>a</c> is <c>a_j</c>, 365.25 days,
/// 8 766 h. Besides it the common year of 365 days, 8 760 h, which 10 CFR 430 subpart B appendix Y takes, and the leap year of 8 784 h.
/// </summary>
public class UcumYearChecks
{
    // 0.30 W all year: 0.30 W × 8 760 h = 2.628 kWh, × 8 766 h = 2.6298 kWh, × 8 784 h = 2.6352 kWh. Tolerance: rounding of doubles.
    [Theory]
    [InlineData(YearLength.Common, 2.628)]
    [InlineData(YearLength.Julian, 2.6298)]
    [InlineData(YearLength.Leap, 2.6352)]
    public void A_constant_load_of_0_30_W(YearLength year, double kwh)
    {
        var result = YearlyEnergy.Of(new YearInput
        {
            EnergyPerCharge = Figure.None("nothing is charged"),
            ChargeDurationS = 0,
            MaintenancePower = Figure.None("nothing is charged"),
            NoLoadPower = Figure.Of(Measured.Exact(0.30, "W")),
            Use = UseProfile.Of(new Use { ChargesPerWeek = 0, Year = year }),
            Draws = 0,
        });
        Assert.Equal(kwh, result.Energy.Value!.Value, 1e-12);
    }
}
