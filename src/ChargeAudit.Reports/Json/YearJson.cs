using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>A year in JSON, and the years of the methods beside each other.</summary>
internal static class YearJson
{
    /// <summary>A method's year.</summary>
    public static YearDocument Of(YearResult year) => new(
        year.Energy.Json(),
        year.Energy.Why(),
        year.Cost.Json(),
        year.Cost.Why(),
        [
            .. year.ByMode.Select(m => new YearOfModeDocument(
                StableName.Of(m.Mode), Known.Finite(m.HoursPerYear), m.Energy.Json(), m.Energy.Why(), m.Cost.Json(), m.Cost.Why())),
        ],
        year.Detail is { } detail ? Detail(detail) : null,
        Known.Unless(year.Detail, "the hours of a year are not known"));

    /// <summary>A method's year less the reference's.</summary>
    public static YearDifferenceDocument Difference(YearComparison y) => new(
        y.Reference,
        y.Method,
        y.Difference.Energy.Json(),
        y.Difference.Energy.Why(),
        y.Difference.Cost.Json(),
        y.Difference.Cost.Why(),
        y.Difference.Co2.Json(),
        y.Difference.Co2.Why());

    /// <summary>When a purchase is paid for.</summary>
    public static PaybackDocument Paid(Payback p) => new(p.Now, p.Bought, Known.Finite(p.Price), p.Years.Json(), p.Years.Why());

    private static YearDetailDocument Detail(YearDetail detail) => new(
        Known.Finite(detail.HoursPerYear),
        Known.Finite(detail.ChargesPerYear),
        detail.EnergyPerUsualCharge.Json(),
        detail.EnergyPerUsualCharge.Why(),
        detail.CostPerCharge.Json(),
        detail.CostPerCharge.Why(),
        detail.CostPerChargeWithStandby.Json(),
        detail.CostPerChargeWithStandby.Why(),
        detail.StandbyEnergy.Json(),
        detail.StandbyEnergy.Why(),
        detail.StandbyShare.Json(),
        detail.StandbyShare.Why(),
        Saving(detail.Unplugging),
        Saving(detail.UnpluggingWhenFull),
        detail.FixedCharges.Json(),
        detail.FixedCharges.Why(),
        detail.Co2.Json(),
        detail.Co2.Why(),
        [
            .. detail.Tornado.Select(bar => new TornadoBarDocument(
                bar.What,
                bar.Unit,
                Known.Finite(bar.Low),
                Known.Finite(bar.High),
                Known.Finite(bar.ResultLow),
                Known.Finite(bar.ResultHigh),
                bar.ResultUnit,
                bar.Basis)),
        ],
        Draws(detail.EnergyMonteCarlo),
        Known.Unless(detail.EnergyMonteCarlo, detail.NoMonteCarloBecause),
        Draws(detail.CostMonteCarlo),
        Known.Unless(detail.CostMonteCarlo, detail.NoMonteCarloBecause ?? "there is no price"),
        detail.Assumptions);

    private static SavingDocument Saving(Saving s) => new(s.Energy.Json(), s.Energy.Why(), s.Cost.Json(), s.Cost.Why());

    private static DrawsDocument? Draws(MonteCarloInterval? interval) => interval is null ? null : new(
        Known.Finite(interval.Low),
        Known.Finite(interval.Median),
        Known.Finite(interval.High),
        Known.Finite(interval.Coverage),
        interval.Draws,
        interval.Seed);
}
