using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>
/// A year of one method at the wall: E = Σ over modes of weeks × hours × power. Uncertainty and correlation come with the figures; limits
/// that the user gives for charges and price widen them; what the user takes for granted (a number without limits) does not.
/// <i>Source:</i> JCGM 100:2008, 5.1.2 (propagation), 4.3.7 and 4.3.8 (limits with equally likely values between them).
/// </summary>
public static class YearlyEnergy
{
    private static readonly InfluenceSource PriceSource = new("price-level", Shape: ErrorShape.Rectangular) { Owner = SourceOwner.Tariff };
    private static readonly InfluenceSource CarbonSource = new("factor", Shape: ErrorShape.Rectangular) { Owner = SourceOwner.Carbon };

    /// <summary>Works out a year.</summary>
    /// <param name="input">What it rests on.</param>
    /// <returns>The year; a mode with hours and no known power is missing with its reason, and then so is the total.</returns>
    /// <exception cref="InputException">A week cannot hold the use.</exception>
    public static YearResult Of(YearInput input)
    {
        if (!(input.ChargeDurationS > 0) && input.Use.WeeklyCharges > 0)
        {
            string why = input.EnergyPerCharge.WhyNot
                ?? "how long a charge takes is not known, so the hours of the week cannot be shared out";
            return new YearResult(Figure.None(why), Figure.None(why), []);
        }

        var model = new YearModel(input.Use, Math.Max(0, input.ChargeDurationS) / 3600, input.Tariff);
        var energies = WeekHours.Modes.ToDictionary(m => m, m => EnergyOf(m, model, input));
        var energy = Total(energies, "energy");
        var costs = WeekHours.Modes.ToDictionary(m => m, m => CostOf(m, energies[m], energy, model, input.Tariff));
        var cost = input.Tariff is null ? Figure.None("no price was given") : Total(costs, "cost");
        var byMode = WeekHours.Modes
            .Select(m => new YearModeResult(m, model.Hours[m] * model.Use.WeeksPerYear, energies[m], costs[m]))
            .ToList();
        var year = new YearResult(energy, cost, byMode);
        return year with { Detail = YearDetails.Of(input, model, year) };
    }

    /// <summary>Emissions of a year, each mode by the factor of the hours in which it happens.</summary>
    internal static Figure Co2Of(YearInput input, YearModel model, YearResult year)
    {
        if (input.Carbon is not { } carbon)
        {
            return Figure.None("no emission factor was given");
        }

        if (year.Energy.Value is null)
        {
            return Figure.None(year.Energy.WhyNot!);
        }

        var terms = year.ByMode.Select(m => (carbon.FactorOf(model.Plan, m.Mode) / 1000, m.Energy.Value!)).ToList();
        double kg = terms.Sum(t => t.Item1 * t.Item2.Value);
        var measured = Measured.Combine(kg, "kg", terms);
        return new Figure(Widened(measured, CarbonSource, carbon.Source.WithinPercent), null, year.Energy.Assumed);
    }

    private static Figure EnergyOf(Mode mode, YearModel model, YearInput input)
    {
        if (mode == Mode.Off || model.Weight(mode) == 0)
        {
            return Figure.Of(Measured.Exact(0, "kWh"));
        }

        var own = mode switch
        {
            Mode.Charge => input.EnergyPerCharge,
            Mode.Maintenance => input.MaintenancePower,
            _ => input.NoLoadPower,
        };
        if (own.Value is not { } value)
        {
            return Figure.None(own.WhyNot ?? "it was not measured");
        }

        double weight = model.Weight(mode);
        var energy = Measured.Combine(weight * value.Value, "kWh", (weight, value));
        return new Figure(WithChargesRange(energy, mode, model, value.Value), null, own.Assumed);
    }

    /// <summary>The part of the uncertainty that the limits of the charges per week bring. The mode's hours are linear in the
    /// charges.</summary>
    private static Measured WithChargesRange(Measured energy, Mode mode, YearModel model, double value)
    {
        var use = model.Use.Use;
        if (use.ChargesPerWeekRange is not { } range || range.High <= range.Low)
        {
            return energy;
        }

        // Both ends must fit into the week.
        double atHigh = model.Use.WithCharges(range.High).Hours(model.ChargeDurationH)[mode];
        double atLow = model.Use.WithCharges(range.Low).Hours(model.ChargeDurationH)[mode];
        double slope = mode == Mode.Charge
            ? use.Devices * model.Use.WeeksPerYear * model.Use.Share * value / 1000
            : (atHigh - atLow) / (range.High - range.Low) * model.Use.WeeksPerYear * value / 1000;
        double u = (range.High - range.Low) / Math.Sqrt(12);

        // The limits count, not where between them the stated number lies: the interval is that of equally likely values between them.
        double middle = (0.5 * (range.Low + range.High)) - use.ChargesPerWeek;
        return energy.Plus(new UncertaintyComponent(model.Use.ChargesSource with { Middle = middle / u }, slope * u));
    }

    private static Figure CostOf(Mode mode, Figure energy, Figure total, YearModel model, PreparedTariff? tariff)
    {
        if (tariff is null)
        {
            return Figure.None("no price was given");
        }

        if (energy.Value is not { } kwh)
        {
            return Figure.None(energy.WhyNot!);
        }

        if (total.Value is null && tariff.Source.Tiers.Count > 0)
        {
            return Figure.None("the price depends on the year's whole energy, which is not known");
        }

        double price = model.Price[(int)mode] + (total.Value is { } all ? model.TierPrice(all.Value) : 0);
        var cost = kwh.In(tariff.Currency.Code, price);
        return new Figure(Widened(cost, PriceSource, tariff.Source.PriceWithinPercent), null, energy.Assumed);
    }

    private static Measured Widened(Measured figure, InfluenceSource source, double? withinPercent) => withinPercent is > 0
        ? figure.Plus(new UncertaintyComponent(source, figure.Value * withinPercent.Value / 100 / Math.Sqrt(3)))
        : figure;

    private static Figure Total(Dictionary<Mode, Figure> parts, string what)
    {
        var missing = parts.Where(p => p.Value.Value is null).ToList();
        if (missing.Count > 0)
        {
            string reasons = string.Join("; ", missing.Select(p => $"{Words(p.Key)}: {p.Value.WhyNot}"));
            return Figure.None(
                $"the {what} of a part of the year cannot be told ({reasons}), so the whole cannot; the parts that are known are shown");
        }

        return new Figure(
            parts.Values.Select(p => p.Value!).Aggregate((a, b) => a + b), null, parts.Values.Select(p => p.Assumed)
                .Aggregate(Figure.Joined));
    }

    private static string Words(Mode mode) => mode switch
    {
        Mode.Charge => "charge",
        Mode.Maintenance => "full",
        Mode.NoLoad => "waiting",
        _ => "off",
    };
}
