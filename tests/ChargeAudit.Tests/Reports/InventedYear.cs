using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Reports;

/// <summary>The finer figures of an invented year.</summary>
internal static class InventedYear
{
    public static YearDetail Detail(MethodKind kind, Measured total, Func<double, Measured> kwh, Func<Measured, Figure> cost)
    {
        bool pad = kind == MethodKind.Inductive;
        var standby = kwh(pad ? 4.29 : 0.85);
        Saving Save(double value) => new(Figure.Of(kwh(value)), cost(kwh(value)));
        return new YearDetail
        {
            HoursPerYear = 8760,
            ChargesPerYear = 365,
            EnergyPerUsualCharge = Figure.Of(kwh(pad ? 0.0129 : 0.0084).In("Wh", 1000)),
            CostPerCharge = cost(kwh(pad ? 0.0129 : 0.0084)),
            CostPerChargeWithStandby = cost(total.In("kWh", 1.0 / 365)),
            StandbyEnergy = Figure.Of(standby),
            StandbyShare = Figure.Of(ReportFixture.Stated(Measured.Quotient(standby, total))),
            Unplugging = Save(pad ? 1.81 : 0.35),
            UnpluggingWhenFull = Save(pad ? 4.29 : 0.85),
            FixedCharges = Figure.None("the tariff holds no fixed charge"),
            Co2 = Figure.None("the study gives no emissions per energy"),
            Tornado =
            [
                new TornadoBar("charges per week", "1", 5.6, 8.4, total.Value * 0.9, total.Value * 1.1, "kWh",
                    "20 % either way: our assumption"),
                new TornadoBar("power when full", "W", 0.9, 1.4, total.Value * 0.95, total.Value * 1.05, "kWh",
                    "95 % interval of the measurement"),
                new TornadoBar("share of a full charge", "%", 80, 100, total.Value * 0.93, total.Value, "kWh",
                    "20 % either way: our assumption; never above what fits"),
            ],
            EnergyMonteCarlo = new MonteCarloInterval(total.Value * 0.98, total.Value, total.Value * 1.03, 0.95, 10000, 1),
            NoMonteCarloBecause = null,
            Assumptions = ["A year is taken to have 8760 hours."],
        };
    }
}
