using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class TariffTests
{
    private static readonly Use Nights = new() { HoursOnChargerPerCharge = 8 };

    private static readonly DayOfWeek[] WorkingDays = [DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday,
        DayOfWeek.Friday];

    private static Tariff TimeOfUse => new("EUR")
    {
        TimeZone = "Europe/Lisbon",
        CalendarYear = 2026,
        Periods =
        [
            new TariffPeriod
            {
                SeasonFrom = new MonthDay(11, 1),
                SeasonTo = new MonthDay(3, 15),
                Days = WorkingDays,
                From = new TimeOnly(8, 0),
                To = new TimeOnly(22, 30),
                PricePerKwh = 0.41,
            },
            new TariffPeriod { Days = WorkingDays, From = new TimeOnly(8, 0), To = new TimeOnly(22, 30), PricePerKwh = 0.33 },
            new TariffPeriod { Days = [DayOfWeek.Saturday, DayOfWeek.Sunday], PricePerKwh = 0.17 },
            new TariffPeriod { From = new TimeOnly(22, 30), To = new TimeOnly(8, 0), PricePerKwh = 0.12 },
        ],
    };

    [Fact]
    public void Prices_by_hour_weekday_and_season_agree_with_a_sum_over_every_half_hour_of_the_year()
    {
        // Independent of the code under test: walk through 2026 in UTC, look at the clock in Lisbon, and add power × price × half an hour.
        // Charge 22:00 to 00:30 at 18 Wh / 2.5 h, full until 06:00 at 0.6 W, waiting at 0.25 W.
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Lisbon");
        double expected = 0;
        double kwh = 0;
        int halfHours = 0;
        for (var utc = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc); utc.Year == 2026; utc = utc.AddMinutes(30))
        {
            var local = TimeZoneInfo.ConvertTimeFromUtc(utc, zone);
            int minutes = (local.Hour * 60) + local.Minute;
            double watts = minutes is >= 1320 or < 30 ? 7.2 : minutes < 360 ? 0.6 : 0.25;
            bool weekend = local.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday;
            bool day = minutes is >= 480 and < 1350;
            bool winter = local.Month is 11 or 12 or 1 or 2 || (local.Month == 3 && local.Day <= 15);
            double price = weekend ? 0.17 : !day ? 0.12 : winter ? 0.41 : 0.33;
            expected += watts * 0.5 / 1000 * price;
            kwh += watts * 0.5 / 1000;
            halfHours++;
        }

        var year = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(TimeOfUse)));
        Assert.Equal(17520, halfHours);

        // The night of the spring change lacks an hour of maintenance and the autumn night has it twice, so the sums agree to rounding.
        Assert.Equal(kwh, year.Energy.Value!.Value, 10);
        Assert.Equal(expected, year.Cost.Value!.Value, 10);
    }

    [Fact]
    public void A_charge_by_day_costs_the_day_price()
    {
        var flatNight =
            YearlyEnergy.Of(
                YearCases.Pad(new Use
                {
                    PluggedInAllDay = false,
                    ChargingDays = [DayOfWeek.Monday],
                    ChargesPerWeek = 1,
                    ChargingStart = new TimeOnly(23, 0)
                }, PreparedTariff.Of(TimeOfUse)));
        var day =
            YearlyEnergy.Of(
                YearCases.Pad(new Use
                {
                    PluggedInAllDay = false,
                    ChargingDays = [DayOfWeek.Saturday],
                    ChargesPerWeek = 1,
                    ChargingStart = new TimeOnly(9, 0)
                }, PreparedTariff.Of(TimeOfUse)));
        Assert.Equal(0.12 * flatNight.Energy.Value!.Value, flatNight.Cost.Value!.Value, 12);
        Assert.Equal(0.17 * day.Energy.Value!.Value, day.Cost.Value!.Value, 12);
    }

    [Fact]
    public void A_holiday_counts_as_a_sunday()
    {
        var everyMonday = Enumerable.Range(0, 366).Select(d => new DateOnly(2026, 1, 1).AddDays(d))
            .Where(d => d.DayOfWeek == DayOfWeek.Monday).ToList();
        var use = new Use
        {
            PluggedInAllDay = false,
            ChargingDays = [DayOfWeek.Monday],
            ChargesPerWeek = 1,
            ChargingStart = new TimeOnly(9, 0),
        };
        var year = YearlyEnergy.Of(YearCases.Pad(use, PreparedTariff.Of(TimeOfUse with { Holidays = everyMonday })));
        Assert.Equal(0.17 * year.Energy.Value!.Value, year.Cost.Value!.Value, 12);
    }

    [Fact]
    public void Surcharge_and_tax_come_on_every_kwh_and_the_fixed_charge_on_none()
    {
        var tariff = new Tariff("EUR", 0.20) { SurchargePerKwh = 0.05, TaxPercent = 23, FixedPerMonth = 9.80 };
        var year = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(tariff)));
        Assert.Equal(1.23 * 0.25 * 9.2345, year.Cost.Value!.Value, 12);
        Assert.Equal(117.60, year.Detail!.FixedCharges.Value!.Value, 10);
    }

    [Fact]
    public void A_price_below_zero_brings_money_and_is_pointed_out()
    {
        var year = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(new Tariff("EUR", -0.02))));
        Assert.Equal(-0.02 * 9.2345, year.Cost.Value!.Value, 12);
        Assert.Contains(year.Detail!.Assumptions, a => a.StartsWith("some prices are below zero", StringComparison.Ordinal));
    }

    [Fact]
    public void Limits_of_the_price_level_widen_the_cost_and_not_the_energy()
    {
        var exact = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(new Tariff("EUR", 0.30))));
        var wide = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(new Tariff("EUR", 0.30) { PriceWithinPercent = 10 })));
        Assert.Equal(exact.Energy.Value!.StandardUncertainty!.Value, wide.Energy.Value!.StandardUncertainty!.Value, 12);
        double price = 0.30 * 9.2345 * 0.1 / Math.Sqrt(3);
        Assert.Equal(Math.Sqrt(Math.Pow(exact.Cost.Value!.StandardUncertainty!.Value, 2) + (price * price)),
            wide.Cost.Value!.StandardUncertainty!.Value, 12);
    }

    [Fact]
    public void Tiers_price_the_last_kilowatt_hours_of_the_household()
    {
        // By hand: the first 100 kWh a month at 0.10, the rest at 0.40. 9.2345 kWh a year are 0.784 kWh in a month of 31 days: on top of 99
        // kWh all of it lies below 100, on top of 150 kWh all above, on top of 99.5 kWh half a kilowatt-hour below and the rest above.
        var tariff = new Tariff("EUR") { Tiers = [new TariffTier(100, 0.10), new TariffTier(null, 0.40)] };
        var below = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(tariff, new Household([99]))));
        Assert.Equal(0.10 * 9.2345, below.Cost.Value!.Value, 12);
        var above = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(tariff, new Household([150]))));
        Assert.Equal(0.40 * 9.2345, above.Cost.Value!.Value, 12);

        int[] days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        double expected = days.Sum(d => (0.10 * 0.5) + (0.40 * ((9.2345 * d / 365) - 0.5)));
        var across = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(tariff, new Household([99.5]))));
        Assert.Equal(expected, across.Cost.Value!.Value, 12);
        Assert.Equal(across.Cost.Value.Value, across.ByMode.Sum(m => m.Cost.Value!.Value), 12);

        double[] months = [99, 150, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99];
        var february = YearlyEnergy.Of(YearCases.Pad(Nights, PreparedTariff.Of(tariff, new Household(months))));
        Assert.Equal((0.10 * 9.2345) + (0.30 * 9.2345 * 28 / 365), february.Cost.Value!.Value, 12);
    }

    [Fact]
    public void Tiers_without_the_household_are_refused_with_the_key_to_give()
    {
        var tariff = new Tariff("EUR") { Tiers = [new TariffTier(100, 0.10), new TariffTier(null, 0.40)] };
        var error = Assert.Throws<InputException>(() => PreparedTariff.Of(tariff));
        Assert.Contains("[household]", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_hour_without_a_price_is_named()
    {
        var tariff = TimeOfUse with { Periods = [.. TimeOfUse.Periods.Take(3)] };
        var error = Assert.Throws<InputException>(() => PreparedTariff.Of(tariff));
        Assert.Contains("no period holds on 2026-01-01 (Thursday) at 00:00", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_tariff_that_contradicts_itself_is_refused()
    {
        void Refused(Tariff tariff, string says, Household? household = null) =>
            Assert.Contains(says, Assert.Throws<InputException>(() => PreparedTariff.Of(tariff, household)).Message,
                StringComparison.Ordinal);
        Refused(new Tariff("EUR"), "holds no price");
        Refused(new Tariff("EUR", 0.3) { Hourly = new PriceFile("p.csv") }, "keep one of them");
        Refused(new Tariff("EUX", 0.3), "'EUX'");
        Refused(TimeOfUse with { TimeZone = null }, "no timezone");
        Refused(TimeOfUse with { TimeZone = "Europe/Atlantis" }, "'Europe/Atlantis'");
        Refused(new Tariff("EUR", 0.3) { TaxPercent = -1 }, "tax is expected");
        Refused(TimeOfUse with { Periods = [new TariffPeriod { From = new TimeOnly(8, 10), PricePerKwh = 1 }] }, "quarter of an hour");
        Refused(TimeOfUse with
        {
            Periods = [
            new TariffPeriod { SeasonFrom = new MonthDay(2, 30), SeasonTo = new MonthDay(3, 1), PricePerKwh = 1 }]
        }, "02-30");
        Refused(new Tariff("EUR") { Tiers = [new TariffTier(100, 0.1), new TariffTier(50, 0.2)] }, "number 2 does not end above 100",
            new Household([1]));
        Refused(new Tariff("EUR") { Tiers = [new TariffTier(100, 0.1)] }, "leave its up-to-kwh out", new Household([1]));
        Refused(new Tariff("EUR") { Tiers = [new TariffTier(null, 0.1)] }, "expected one, or twelve", new Household([1, 2]));
    }

    [Fact]
    public void Currencies_have_their_digits()
    {
        Assert.Equal(2, Currency.Of("eur").Digits);
        Assert.Equal(0, Currency.Of("JPY").Digits);
        Assert.Equal(3, Currency.Of("KWD").Digits);
        Assert.All(Currency.All, c => Assert.InRange(c.Digits, 0, 4));
        Assert.True(Currency.All.Count > 150);
    }
}
