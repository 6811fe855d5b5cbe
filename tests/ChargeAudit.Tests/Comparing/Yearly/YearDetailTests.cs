using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class YearDetailTests
{
    private static readonly Use EightHours = new() { HoursOnChargerPerCharge = 8 };

    private static readonly PreparedTariff Flat = PreparedTariff.Of(new Tariff("EUR", 0.30));

    private static YearInput Cable(Use use, PreparedTariff? tariff) => YearCases.Pad(use, tariff) with
    {
        EnergyPerCharge = Figure.Of(YearCases.With(12.0, "Wh", ("meter:plug/gain", 0.06), ("cable:noise", 0.06))),
        MaintenancePower = Figure.Of(YearCases.With(0.10, "W", ("meter:plug/gain", 0.0005))),
        NoLoadPower = Figure.Of(YearCases.With(0.03, "W", ("meter:plug/gain", 0.00015))),
    };

    [Fact]
    public void Unplugging_saves_what_waiting_takes_and_more_when_the_device_comes_off_too()
    {
        var detail = YearlyEnergy.Of(YearCases.Pad(EightHours, Flat)).Detail!;
        Assert.Equal(1.46, detail.Unplugging.Energy.Value!.Value, 12);
        Assert.Equal(0.3 * 1.46, detail.Unplugging.Cost.Value!.Value, 12);
        Assert.Equal(1.46 + 1.2045, detail.UnpluggingWhenFull.Energy.Value!.Value, 12);
        var already = YearlyEnergy.Of(YearCases.Pad(new Use { PluggedInAllDay = false }, Flat)).Detail!;
        Assert.Equal(0, already.Unplugging.Energy.Value!.Value);
    }

    [Fact]
    public void The_difference_of_two_years_keeps_what_they_share()
    {
        var cable = YearlyEnergy.Of(Cable(EightHours, Flat));
        var pad = YearlyEnergy.Of(YearCases.Pad(EightHours, Flat));
        var difference = YearDifference.Of(cable, pad);
        double cableKwh = 4.38 + (0.1 * 2.0075) + (0.03 * 5.84);
        Assert.Equal(9.2345 - cableKwh, difference.Energy.Value!.Value, 12);
        Assert.Equal(0.3 * (9.2345 - cableKwh), difference.Cost.Value!.Value, 12);

        // The gain acts on the difference only: 0.5 % of it, not 0.5 % of each year added in squares.
        double gain = difference.Energy.Value.Components.Single(c => c.Source.Id == "meter:plug/gain").SignedStandardUncertainty;
        Assert.Equal(0.005 * (9.2345 - cableKwh), gain, 12);
    }

    [Fact]
    public void A_better_charger_pays_after_its_price_by_its_saving()
    {
        var cable = YearlyEnergy.Of(Cable(EightHours, Flat));
        var pad = YearlyEnergy.Of(YearCases.Pad(EightHours, Flat));
        double saving = pad.Cost.Value!.Value - cable.Cost.Value!.Value;
        var years = YearDifference.PaybackYears(pad, cable, 12);
        Assert.Equal(12 / saving, years.Value!.Value, 10);
        double u = YearDifference.Of(cable, pad).Cost.Value!.StandardUncertainty!.Value;
        Assert.Equal(12 / saving * u / saving, years.Value.StandardUncertainty!.Value, 10);
        Assert.Contains("never pays", YearDifference.PaybackYears(cable, pad, 12).WhyNot, StringComparison.Ordinal);

        var vague = YearlyEnergy.Of(YearCases.Pad(EightHours, Flat) with
        {
            EnergyPerCharge = Figure.Of(YearCases.With(12.5, "Wh", ("other", 6.0))),
        });
        Assert.Contains("cannot be told from zero", YearDifference.PaybackYears(vague, cable, 12).WhyNot, StringComparison.Ordinal);
        Assert.Equal("no price was given", YearDifference.PaybackYears(YearlyEnergy.Of(YearCases.Pad()), cable, 12).WhyNot);
    }

    [Fact]
    public void The_tornado_varies_one_thing_at_a_time()
    {
        var use = new Use { HoursOnChargerPerCharge = 8, ChargesPerWeekRange = new NumberRange(5, 9) };
        var detail = YearlyEnergy.Of(YearCases.Pad(use, Flat)).Detail!;
        TornadoBar Bar(string what) => detail.Tornado.Single(b => b.What == what);

        // By hand from 19.3 Wh for one more charge (18 + 5.5 × 0.6 − 8 × 0.25), 365/7 weeks, 0.30 a kWh.
        var charges = Bar("charges per week");
        Assert.Equal((5, 9, "limits in the study"), (charges.Low, charges.High, charges.Basis));
        Assert.Equal(0.3 * (9.2345 - (2 * 0.0193 * 365 / 7)), charges.ResultLow, 10);
        Assert.Equal(0.3 * (9.2345 + (2 * 0.0193 * 365 / 7)), charges.ResultHigh, 10);

        var energy = Bar("energy per charge");
        double half = 1.959963984540054 * Math.Sqrt((0.09 * 0.09) + (0.12 * 0.12));
        Assert.Equal(18 - half, energy.Low, 8);
        Assert.Equal(0.3 * (9.2345 + (0.365 * half)), energy.ResultHigh, 8);
        Assert.Equal("95 % interval of the measurement", energy.Basis);

        var price = Bar("price level");
        Assert.Equal(0.8 * 0.3 * 9.2345, price.ResultLow, 10);
        Assert.Contains("our assumption", price.Basis, StringComparison.Ordinal);

        var socket = Bar("charger in the socket between charges (0 no, 1 yes)");
        Assert.Equal(0.3 * (9.2345 - 1.46), socket.ResultLow, 10);
        Assert.Equal(0.3 * 9.2345, socket.ResultHigh, 10);

        var share = Bar("share of a full charge");
        Assert.Equal((80, 100), (share.Low, share.High));
        Assert.Equal(0.3 * (9.2345 - (0.2 * 6.57) + (0.5 * 365 * 0.6e-3)), share.ResultLow, 10);

        Assert.Contains(detail.Tornado, b => b.What == "power when waiting");
        Assert.Contains(detail.Tornado, b => b.What == "power when full");
        Assert.Equal(detail.Tornado.Select(b => b.Swing).OrderDescending(), detail.Tornado.Select(b => b.Swing));
        Assert.All(detail.Tornado, b => Assert.Equal("EUR", b.ResultUnit));
    }

    [Fact]
    public void The_tornado_never_leaves_the_week()
    {
        // 7 charges of 23 h: a fifth more would be 193 h; 168 / 23 charges are the most.
        var detail = YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 23 })).Detail!;
        Assert.Equal(168.0 / 23, detail.Tornado.Single(b => b.What == "charges per week").High, 10);
        Assert.Equal(24, detail.Tornado.Single(b => b.What == "hours on the charger each time").High, 10);
        Assert.All(detail.Tornado, b => Assert.Equal("kWh", b.ResultUnit));
    }

    [Fact]
    public void Random_draws_agree_with_the_propagated_interval_where_everything_is_normal_and_linear()
    {
        var year = YearlyEnergy.Of(YearCases.Pad(EightHours, Flat) with { Draws = 40_000 });
        var drawn = year.Detail!.EnergyMonteCarlo!;
        var interval = year.Energy.Value!.Interval()!.Value;
        double u = year.Energy.Value.StandardUncertainty!.Value;

        // The standard error of a 2.5 % quantile of n normal draws is u · √(p(1 − p)/n) / φ(1.96) = 0.0134 u; five of them.
        Assert.Equal(interval.Low, drawn.Low, 0.067 * u);
        Assert.Equal(interval.High, drawn.High, 0.067 * u);
        Assert.Equal(0.3 * drawn.Low, year.Detail.CostMonteCarlo!.Low, 1e-9);
        Assert.Equal(drawn, YearlyEnergy.Of(YearCases.Pad(EightHours, Flat) with { Draws = 40_000 }).Detail!.EnergyMonteCarlo);
    }

    [Fact]
    public void Random_draws_of_one_rectangular_source_end_inside_its_limits()
    {
        // E is uniform between 9 and 11 Wh: its middle 95 % are 0.95 of the width, where ±1.96 u would be 1.13 of it.
        var source = new UncertaintyComponent(new InfluenceSource("gain", Shape: ErrorShape.Rectangular), 1 / Math.Sqrt(3));
        var input = YearCases.Pad(new Use { PluggedInAllDay = false }) with
        {
            EnergyPerCharge = Figure.Of(Measured.From(10, "Wh", [source])),
            Draws = 40_000,
        };
        var drawn = YearlyEnergy.Of(input).Detail!.EnergyMonteCarlo!;

        // Standard error of the quantile: √(0.025 · 0.975 / 40 000) of the width of 0.73 kWh = 0.00057 kWh; five of them.
        Assert.Equal(0.365 * 9.05, drawn.Low, 0.003);
        Assert.Equal(0.365 * 10.95, drawn.High, 0.003);
        Assert.Equal(0.365 * 10, drawn.Median, 0.01);
    }

    [Fact]
    public void Few_degrees_of_freedom_widen_the_draws_as_students_t_does()
    {
        var source = new UncertaintyComponent(new InfluenceSource("runs", 4), 1);
        var input = YearCases.Pad(new Use { PluggedInAllDay = false }) with
        {
            EnergyPerCharge = Figure.Of(Measured.From(10, "Wh", [source])),
            Draws = 40_000,
        };
        var drawn = YearlyEnergy.Of(input).Detail!.EnergyMonteCarlo!;

        // t 0.975 with 4 degrees of freedom is 2.7764; the density there is 0.0206, so the standard error is 0.038; four of them.
        Assert.Equal(2.7764, (drawn.High - drawn.Low) / 2 / 0.365, 0.15);
    }

    [Fact]
    public void An_unknown_uncertainty_gives_no_draws_and_says_why()
    {
        var input = YearCases.Pad(EightHours) with
        {
            NoLoadPower = Figure.Of(Measured.Unknown(0.25, "W", "the meter's accuracy is not given")),
            Draws = 2000,
        };
        var detail = YearlyEnergy.Of(input).Detail!;
        Assert.Null(detail.EnergyMonteCarlo);
        Assert.Equal("the meter's accuracy is not given", detail.NoMonteCarloBecause);
        Assert.Contains(detail.Tornado, b => b.What == "power when waiting"
            && b.Basis.StartsWith("uncertainty not known", StringComparison.Ordinal));
    }

    [Fact]
    public void Limits_of_a_methods_own_use_are_its_own_source_and_the_studys_are_shared()
    {
        var use = new Use { ChargesPerWeekRange = new NumberRange(5, 9) };
        var shared = YearDifference.Of(YearlyEnergy.Of(Cable(use, null)), YearlyEnergy.Of(YearCases.Pad(use))).Energy.Value!;
        Assert.Single(shared.Components, c => c.Source.Id == "use:charges-per-week");
        var own = UseProfile.Of(use, new UseOverride(6) { ChargesPerWeekRange = new NumberRange(5, 7) }, "pad");
        var apart = YearDifference.Of(YearlyEnergy.Of(Cable(use, null)), YearlyEnergy.Of(YearCases.Pad() with { Use = own })).Energy.Value!;
        Assert.Equal(2, apart.Components.Count(c => c.Source.Id.StartsWith("use:", StringComparison.Ordinal)));
    }

    [Fact]
    public void Limits_that_lie_unevenly_about_the_number_give_the_interval_of_the_limits_and_leave_the_value()
    {
        // 18 Wh a charge, exact, pulled out in between: 7 a week are 365·18 Wh = 6.57 kWh; equally likely from 6 to 12 a week, 95 % lie
        // from 6.15 to 11.85.
        var use = new Use { ChargesPerWeek = 7, ChargesPerWeekRange = new NumberRange(6, 12), PluggedInAllDay = false };
        var input = YearCases.Pad(use) with { EnergyPerCharge = Figure.Of(Measured.Exact(18, "Wh")), Draws = 20_000 };
        var year = YearlyEnergy.Of(input).Energy.Value!;
        Assert.Equal(6.57, year.Value, 1e-9);
        double perCharge = 365 / 7.0 * 0.018;
        Assert.Equal(6.15 * perCharge, year.Interval()!.Value.Low, 1e-6);
        Assert.Equal(11.85 * perCharge, year.Interval()!.Value.High, 1e-6);

        // The random draws come to the same result in another way: 20 000 of them are good to 0.02 charges a week at the ends.
        var draws = YearlyEnergy.Of(input).Detail!.EnergyMonteCarlo!;
        Assert.Equal(6.15 * perCharge, draws.Low, 0.03);
        Assert.Equal(11.85 * perCharge, draws.High, 0.03);
    }

    [Fact]
    public void Uneven_limits_reach_the_cost_and_cancel_between_methods_that_share_them()
    {
        var use = new Use { ChargesPerWeek = 7, ChargesPerWeekRange = new NumberRange(6, 12), PluggedInAllDay = false };
        var year = YearlyEnergy.Of(YearCases.Pad(use, PreparedTariff.Of(new Tariff("EUR", 0.30))) with
        {
            EnergyPerCharge = Figure.Of(Measured.Exact(18, "Wh")),
        });
        Assert.Equal(0.30 * 11.85 * 365 / 7.0 * 0.018, year.Cost.Value!.Interval()!.Value.High, 1e-6);
        var difference = YearDifference.Of(year, year).Energy.Value!;
        Assert.Equal(0, difference.Interval()!.Value.High, 1e-12);
    }
}
