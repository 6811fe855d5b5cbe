using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>What moves a year: each input varied alone between two values while the others stay. The result is the cost, or the energy
/// without a tariff.</summary>
internal static class Tornado
{
    /// <summary>How far an input is varied where neither the user nor the measurement says: our assumption.</summary>
    internal const double AssumedPercent = 20;

    private const string Ours = "20 % either way: our assumption";
    private const string Interval = "95 % interval of the measurement";

    internal static IReadOnlyList<TornadoBar> Of(YearInput input, YearModel model, YearPowers at)
    {
        var bars = new List<TornadoBar>();
        string unit = input.Tariff?.Currency.Code ?? "kWh";
        double Result(YearModel m, YearPowers p) => input.Tariff is null ? m.Kwh(p) : m.Cost(p);
        void Use(string what, string of, double low, double high, string basis, Func<double, UseProfile> with) =>
            bars.Add(
                new TornadoBar(what, of, low, high, Result(model.With(with(low)), at), Result(model.With(with(high)), at), unit, basis));
        void Power(string what, Figure figure, Mode mode, Func<double, YearPowers> with)
        {
            if (figure.Value is { } value && model.Weight(mode) > 0)
            {
                var (low, high, basis) = Limits(value);
                bars.Add(new TornadoBar(what, value.Unit, low, high, Result(model, with(low)), Result(model, with(high)), unit, basis));
            }
        }

        AddUse(model, Use);
        Power("energy per charge", input.EnergyPerCharge, Mode.Charge, v => at with { EnergyWh = v });
        Power("power when full", input.MaintenancePower, Mode.Maintenance, v => at with { MaintenanceW = v });
        Power("power when waiting", input.NoLoadPower, Mode.NoLoad, v => at with { NoLoadW = v });
        if (input.Tariff is { } tariff)
        {
            double within = tariff.Source.PriceWithinPercent ?? AssumedPercent;
            double cost = model.Cost(at);
            bars.Add(new TornadoBar(
                "price level", "%", 100 - within, 100 + within, cost * (1 - (within / 100)), cost * (1 + (within / 100)), unit,
                    tariff.Source.PriceWithinPercent is null ? Ours : "limits in the study"));
        }

        if (input.NoLoadPower.Value is { } waiting && model.Hours.ChargeH + model.Hours.MaintenanceH < WeekHours.Week)
        {
            var powered = at with { NoLoadW = waiting.Value };
            bars.Add(new TornadoBar(
                "charger in the socket between charges (0 no, 1 yes)",
                "1",
                0,
                1,
                Result(model.With(model.Use.WithPluggedIn(false)), powered),
                Result(model.With(model.Use.WithPluggedIn(true)), powered),
                unit,
                "both habits"));
        }

        return [.. bars.OrderByDescending(b => b.Swing).ThenBy(b => b.What, StringComparer.Ordinal)];
    }

    private static void AddUse(YearModel model, Action<string, string, double, double, string, Func<double, UseProfile>> add)
    {
        var use = model.Use;
        double on = use.OnChargerH(model.ChargeDurationH) * use.Use.Devices;
        if (use.WeeklyCharges == 0)
        {
            return;
        }

        double most = on > 0 ? WeekHours.Week / on : double.PositiveInfinity;
        double n = use.Use.ChargesPerWeek;
        var range = use.Use.ChargesPerWeekRange;
        double high = Math.Min(range?.High ?? (n * (1 + (AssumedPercent / 100))), most);
        add("charges per week", "1", range?.Low ?? (n * (1 - (AssumedPercent / 100))), high, range is null
            ? Ours
            : "limits in the study", use.WithCharges);
        double share = use.Use.ChargeSharePercent;
        double longest = LongestShare(model);
        add("share of a full charge", "%", share * (1 - (AssumedPercent / 100)), Math.Min(share * (1 + (AssumedPercent / 100)), longest),
            Ours + "; never above what fits", use.WithSharePercent);
        if (use.Use.HoursOnChargerPerCharge is { } hours)
        {
            double least = Math.Max(hours * (1 - (AssumedPercent / 100)), use.ChargeH(model.ChargeDurationH));
            double greatest = Math.Min(hours * (1 + (AssumedPercent / 100)), WeekHours.Week / use.WeeklyCharges);
            add("hours on the charger each time", "h", least, greatest, Ours + "; never beyond what fits", h => use.WithHoursOnCharger(h));
        }
    }

    /// <summary>The greatest share that fits into the hours on the charger, and into the week.</summary>
    private static double LongestShare(YearModel model)
    {
        double most = model.Use.Use.HoursOnChargerPerCharge ?? (WeekHours.Week / model.Use.WeeklyCharges);
        return model.ChargeDurationH > 0 ? Math.Min(100, 100 * most / model.ChargeDurationH) : 100;
    }

    private static (double Low, double High, string Basis) Limits(Measured value) => value.Interval() is { } i && i.High > i.Low
        ? (i.Low, i.High, Interval)
        : (value.Value * (1 - (AssumedPercent / 100)), value.Value * (1 + (AssumedPercent / 100)), "uncertainty not known; " + Ours);
}
