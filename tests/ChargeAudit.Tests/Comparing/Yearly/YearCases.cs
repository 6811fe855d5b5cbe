using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

/// <summary>Invented inputs that the tests of a year share.</summary>
internal static class YearCases
{
    /// <summary>Everything known: 18 Wh a charge of 2.5 h, 0.6 W when full, 0.25 W waiting; the two powers share the meter's
    /// gain.</summary>
    internal static YearInput Pad(Use? use = null, PreparedTariff? tariff = null, UseOverride? method = null) => new()
    {
        EnergyPerCharge = Figure.Of(With(18.0, "Wh", ("meter:plug/gain", 0.09), ("run:noise", 0.12))),
        ChargeDurationS = 2.5 * 3600,
        MaintenancePower = Figure.Of(With(0.60, "W", ("meter:plug/gain", 0.003), ("full:noise", 0.02))),
        NoLoadPower = Figure.Of(With(0.25, "W", ("meter:plug/gain", 0.00125), ("wait:noise", 0.01))),
        Use = UseProfile.Of(use ?? new Use(), method),
        Tariff = tariff,
        Draws = 0,
    };

    internal static Measured With(double value, string unit, params (string Source, double U)[] parts) =>
        Measured.From(value, unit, parts.Select(p => new UncertaintyComponent(new InfluenceSource(p.Source), p.U)));
}
