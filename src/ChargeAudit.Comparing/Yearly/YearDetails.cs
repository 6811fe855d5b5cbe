using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>Shares, costs by charge, savings and what moves the result, from a year and its model.</summary>
internal static class YearDetails
{
    internal static YearDetail Of(YearInput input, YearModel model, YearResult year)
    {
        var by = year.ByMode.ToDictionary(m => m.Mode);
        var standby = Sum(by[Mode.Maintenance].Energy, by[Mode.NoLoad].Energy);
        bool whole = year.Energy.Value is not null;
        var powers = new YearPowers(Value(input.EnergyPerCharge), Value(input.MaintenancePower), Value(input.NoLoadPower));
        var (energyDraws, costDraws, noDraws) = whole ? YearMonteCarlo.Of(input, model) : (null, null, year.Energy.WhyNot);
        return new YearDetail
        {
            HoursPerYear = model.Use.HoursPerYear,
            ChargesPerYear = model.ChargesPerYear,
            Currency = input.Tariff?.Currency,
            EnergyPerUsualCharge = Scaled(input.EnergyPerCharge, "Wh", model.Use.Share),
            CostPerCharge = PerCharge(by[Mode.Charge].Cost, model),
            CostPerChargeWithStandby = PerCharge(year.Cost, model),
            StandbyEnergy = standby,
            StandbyShare = Share(standby, year.Energy),
            Unplugging = new Saving(by[Mode.NoLoad].Energy, by[Mode.NoLoad].Cost),
            UnpluggingWhenFull = new Saving(standby, Sum(by[Mode.Maintenance].Cost, by[Mode.NoLoad].Cost)),
            FixedCharges = Fixed(input.Tariff),
            Co2 = YearlyEnergy.Co2Of(input, model, year),
            Tornado = whole ? Tornado.Of(input, model, powers) : [],
            EnergyMonteCarlo = energyDraws,
            CostMonteCarlo = costDraws,
            NoMonteCarloBecause = noDraws,
            Assumptions = Assumptions(input, model),
        };
    }

    /// <summary>The sum of two figures; where one is missing, the first reason.</summary>
    internal static Figure Sum(Figure a, Figure b)
    {
        if ((a.WhyNot ?? b.WhyNot) is { } why)
        {
            return Figure.None(why);
        }

        string? assumed = Figure.Joined(a.Assumed, b.Assumed);
        return new Figure(a.Value! + b.Value!, null, assumed);
    }

    private static double Value(Figure figure) => figure.Value?.Value ?? 0;

    private static Figure Scaled(Figure figure, string unit, double factor) =>
        figure.Value is { } value ? new Figure(value.In(unit, factor), null, figure.Assumed) : figure;

    private static Figure PerCharge(Figure cost, YearModel model)
    {
        if (cost.Value is null)
        {
            return cost;
        }

        return model.ChargesPerYear > 0
            ? Scaled(cost, cost.Value.Unit, 1 / model.ChargesPerYear)
            : Figure.None("there are no charges in the year");
    }

    private static Figure Share(Figure part, Figure whole)
    {
        if ((part.WhyNot ?? whole.WhyNot) is { } why)
        {
            return Figure.None(why);
        }

        return whole.Value!.Value > 0
            ? new Figure(Measured.Quotient(part.Value!, whole.Value), null, whole.Assumed)
            : Figure.None("the year takes no energy");
    }

    private static Figure Fixed(PreparedTariff? tariff) => tariff?.FixedPerYear is { } perYear
        ? Figure.Of(Measured.Exact(perYear, tariff.Currency.Code))
        : Figure.None("no fixed charge was given");

    private static List<string> Assumptions(YearInput input, YearModel model)
    {
        var said = new List<string>(model.Use.Assumptions())
        {
            Prose.Of($"a year has {model.Use.HoursPerYear:0} h"),
        };
        bool timed = input.Tariff is { } t && (t.Source.Periods.Count > 0 || t.Source.Hourly is not null)
            || input.Carbon?.Source.Hourly is not null;
        if (timed)
        {
            string named = model.Use.Use.Given.Contains("charging-start")
                ? string.Empty
                : " (our assumption; [use] charging-start changes it)";
            said.Add(
                InvariantText.Of(
                    $"charges start at {model.Use.Use.ChargingStart:HH:mm} local time{named}, spread evenly over the charging days, and "
                + $"take their mean power all the time"));
        }

        said.AddRange(input.Tariff?.Assumptions ?? []);
        said.AddRange(input.Carbon?.Assumptions ?? []);
        return said;
    }
}
