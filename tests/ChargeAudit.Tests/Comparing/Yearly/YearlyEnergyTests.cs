using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class YearlyEnergyTests
{
    private static readonly Use EightHours = new() { HoursOnChargerPerCharge = 8 };

    [Fact]
    public void A_year_by_hand_charge_maintenance_and_waiting()
    {
        // By hand: 365 charges of 18 Wh; (8 − 2.5) h × 365 at 0.6 W; (24 − 8) h × 365 at 0.25 W.
        var year = YearlyEnergy.Of(YearCases.Pad(EightHours, PreparedTariff.Of(new Tariff("EUR", 0.30))));
        Assert.Equal(6.57 + 1.2045 + 1.46, year.Energy.Value!.Value, 12);
        Assert.Equal(0.30 * 9.2345, year.Cost.Value!.Value, 12);
        Assert.Equal("EUR", year.Cost.Value.Unit);
        Assert.Equal([6.57, 1.2045, 1.46, 0], year.ByMode.Select(m => Math.Round(m.Energy.Value!.Value, 10)));
        Assert.Equal([912.5, 2007.5, 5840, 0], year.ByMode.Select(m => Math.Round(m.HoursPerYear, 9)));
        Assert.Equal(8760, year.ByMode.Sum(m => m.HoursPerYear), 8);
        Assert.Equal(2.6645 / 9.2345, year.Detail!.StandbyShare.Value!.Value, 12);
        Assert.Equal(0.0054, year.Detail.CostPerCharge.Value!.Value, 12);
    }

    [Fact]
    public void What_two_figures_share_adds_up_and_noise_does_not()
    {
        // One gain of 0.5 % in all three figures adds up linearly: 0.5 % of the whole. The noises add in squares.
        var year = YearlyEnergy.Of(YearCases.Pad(EightHours));
        double noise = Math.Sqrt(Math.Pow(0.12 * 0.365, 2) + Math.Pow(0.02 * 2.0075, 2) + Math.Pow(0.01 * 5.84, 2));
        Assert.Equal(Math.Sqrt(Math.Pow(0.005 * 9.2345, 2) + (noise * noise)), year.Energy.Value!.StandardUncertainty!.Value, 12);
    }

    [Fact]
    public void The_hours_of_a_year_follow_the_convention_asked_for()
    {
        foreach (var (length, hours) in new[] { (YearLength.Common, 8760.0), (YearLength.Julian, 8766), (YearLength.Leap, 8784) })
        {
            var year = YearlyEnergy.Of(YearCases.Pad(new Use { ChargesPerWeek = 3, Year = length }));
            Assert.Equal(hours, year.ByMode.Sum(m => m.HoursPerYear), 8);
        }
    }

    [Fact]
    public void A_power_that_is_not_needed_does_not_spoil_the_total()
    {
        var input = YearCases.Pad(new Use { PluggedInAllDay = false }) with
        {
            MaintenancePower = Figure.None("no maintenance was logged"),
            NoLoadPower = Figure.None("nobody logged the charger waiting"),
        };
        var year = YearlyEnergy.Of(input);
        Assert.Equal(6.57, year.Energy.Value!.Value, 12);
        Assert.Equal(8760 - 912.5, year.ByMode.Single(m => m.Mode == Mode.Off).HoursPerYear, 8);
    }

    [Fact]
    public void A_power_that_is_needed_and_missing_makes_the_total_missing_and_leaves_the_parts()
    {
        var input = YearCases.Pad(EightHours, PreparedTariff.Of(new Tariff("EUR", 0.30))) with
        {
            NoLoadPower = Figure.None("nobody logged the charger waiting"),
        };
        var year = YearlyEnergy.Of(input);
        Assert.Null(year.Energy.Value);
        Assert.Contains("waiting: nobody logged the charger waiting", year.Energy.WhyNot, StringComparison.Ordinal);
        Assert.Equal(6.57, year.ByMode.Single(m => m.Mode == Mode.Charge).Energy.Value!.Value, 12);
        Assert.Equal(0.30 * 1.2045, year.ByMode.Single(m => m.Mode == Mode.Maintenance).Cost.Value!.Value, 12);
        Assert.Null(year.ByMode.Single(m => m.Mode == Mode.NoLoad).Energy.Value);
        Assert.Empty(year.Detail!.Tornado);
    }

    [Fact]
    public void Without_a_price_there_is_no_cost()
    {
        var year = YearlyEnergy.Of(YearCases.Pad());
        Assert.NotNull(year.Energy.Value);
        Assert.Null(year.Cost.Value);
        Assert.Equal("no price was given", year.Cost.WhyNot);
        Assert.All(year.ByMode, m => Assert.Null(m.Cost.Value));
    }

    [Fact]
    public void Without_a_charge_duration_there_are_no_hours_to_share_out()
    {
        var year = YearlyEnergy.Of(YearCases.Pad() with { ChargeDurationS = 0, EnergyPerCharge = Figure.None("no run counts") });
        Assert.Equal("no run counts", year.Energy.WhyNot);
        Assert.Empty(year.ByMode);
    }

    [Fact]
    public void A_partial_charge_takes_its_share_of_energy_and_time_and_says_so()
    {
        var year = YearlyEnergy.Of(YearCases.Pad(new Use { ChargeSharePercent = 60, HoursOnChargerPerCharge = 8 }));
        Assert.Equal(0.6 * 6.57, year.ByMode[0].Energy.Value!.Value, 12);
        Assert.Equal((8 - 1.5) * 365, year.ByMode[1].HoursPerYear, 8);
        Assert.Contains(year.Detail!.Assumptions, a => a.Contains("approximation", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_devices_on_one_pad_charge_one_after_another()
    {
        var year = YearlyEnergy.Of(YearCases.Pad(new Use { Devices = 2, HoursOnChargerPerCharge = 4 }));
        Assert.Equal(2 * 6.57, year.ByMode[0].Energy.Value!.Value, 12);
        Assert.Equal((24 - 8) * 365, year.ByMode[2].HoursPerYear, 8);
    }

    [Fact]
    public void A_method_overrides_the_use_of_the_study()
    {
        var year =
            YearlyEnergy.Of(
                YearCases.Pad(EightHours, method: new UseOverride(PluggedInAllDay: false, ChargesPerWeek: 14, HoursOnChargerPerCharge: 3)));
        Assert.Equal(2 * 6.57, year.ByMode[0].Energy.Value!.Value, 12);
        Assert.Equal(0, year.ByMode[2].HoursPerYear);
        Assert.Equal((24 - 6) * 365, year.ByMode[3].HoursPerYear, 8);
    }

    [Fact]
    public void A_week_that_cannot_hold_the_hours_is_refused_with_the_numbers()
    {
        var error = Assert.Throws<InputException>(() => YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 30 })));
        Assert.Equal(InputProblem.Unusable, error.Problem);
        Assert.Contains("7 charges of 30 h on the charger are 210 h, and a week has 168 h", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_device_cannot_be_taken_off_before_its_charge_ends()
    {
        var error = Assert.Throws<InputException>(() => YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 2 })));
        Assert.Contains("hours-on-charger-per-charge is 2 h, but a usual charge takes 2.5 h", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Limits_of_the_charges_widen_the_interval_by_the_slope_of_the_year()
    {
        // dE/dn by hand at 8 h on the charger: one more charge adds 18 Wh + 5.5 h × 0.6 W and saves 8 h × 0.25 W: 19.3 Wh, 365/7 times a
        // year.
        var use = new Use { HoursOnChargerPerCharge = 8, ChargesPerWeekRange = new NumberRange(5, 9) };
        var exact = YearCases.Pad(use) with
        {
            EnergyPerCharge = Figure.Of(Measured.Exact(18, "Wh")),
            MaintenancePower = Figure.Of(Measured.Exact(0.6, "W")),
            NoLoadPower = Figure.Of(Measured.Exact(0.25, "W")),
        };
        var year = YearlyEnergy.Of(exact);
        Assert.Equal(19.3e-3 * 365 / 7 * 4 / Math.Sqrt(12), year.Energy.Value!.StandardUncertainty!.Value, 10);
    }

    [Fact]
    public void An_unknown_uncertainty_stays_unknown_and_the_value_stands()
    {
        var year = YearlyEnergy.Of(YearCases.Pad() with
        {
            EnergyPerCharge = Figure.Of(Measured.Unknown(18, "Wh", "the meter's accuracy is not given")),
        });
        Assert.Equal(6.57 + (0.25 * 21.5 * 0.365), year.Energy.Value!.Value, 10);
        Assert.Equal("the meter's accuracy is not given", year.Energy.Value.UnknownBecause);
        Assert.Null(year.Energy.Value.Interval());
    }

    [Fact]
    public void Defaults_are_named_as_ours_and_what_the_user_gave_is_not()
    {
        var said = YearlyEnergy.Of(YearCases.Pad(new Use { Given = new HashSet<string> { "plugged-in-all-day" } })).Detail!.Assumptions;
        Assert.Contains(said, a => a.Contains("a charge a day (our assumption; [use] charges-per-week", StringComparison.Ordinal));
        Assert.DoesNotContain(said, a => a.Contains("socket", StringComparison.Ordinal));
        Assert.Contains("a year has 8760 h", said);
    }
}
