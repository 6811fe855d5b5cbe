using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Procedures;

public class UsAppendixYTests
{
    private static Measured M(double value, string unit, double u, string source) =>
        Measured.From(value, unit, [new UncertaintyComponent(new InfluenceSource(source), u)]);

    private static UsAppendixYInput Pad => new()
    {
        Test = new ChargeAndMaintenanceTest(24, Figure.Of(M(26, "Wh", 0.13, "gain")), Figure.Of(M(0.6, "W", 0.003, "gain")), null, []),
        NoBattery = new NoBatteryTest(Figure.Of(M(0.25, "W", 0.00125, "gain")), []),
        Device = new DeviceInfo { BatteryWh = 11.5, BatteryDischargeWh = 11.0, BatteryV = 3.85 },
        Coupling = ChargerCoupling.InductiveDry,
        Placement = PadPlacement.OpenPlacement,
        ActiveChargeEnergy = Figure.Of(M(18, "Wh", 0.09, "gain")),
    };

    [Fact]
    public void A_phone_pad_gets_the_arithmetic_and_is_said_to_be_outside_the_scope()
    {
        var result = UsAppendixY.Of(Pad);
        Assert.Equal(2, result.Class!.Number);
        Assert.Equal(UecEquation.Two, result.Equation);
        Assert.Equal(3.470333553, result.Uec.Value!.Value, 5e-10);
        Assert.Equal(ProcedureVerdict.OutsideScope, result.Verdict);
        Assert.StartsWith("arithmetic of the procedure, outside its scope; not a certificate", result.Text, StringComparison.Ordinal);
        Assert.Contains(result.Checks, c => c is { Id: "scope", State: ConditionState.NotMet });
    }

    [Fact]
    public void A_cable_with_a_measured_battery_has_nothing_against_it()
    {
        var result = UsAppendixY.Of(Pad with { Coupling = ChargerCoupling.Wired, Placement = PadPlacement.Wired });
        Assert.Equal(ProcedureVerdict.NothingAgainst, result.Verdict);
        Assert.DoesNotContain(result.Checks, c => c.State == ConditionState.NotMet);
        Assert.Contains(result.Checks, c => c is { Id: "supply", State: ConditionState.NotShown });
        Assert.Equal(4.534, result.Limit!.Limit!.Value, 1e-9);
        Assert.Contains("last read 2026-11-26", result.Limit.Text, StringComparison.Ordinal);
        Assert.Null(result.Limit.Doubt);
        Assert.EndsWith("For information, not a certificate.", result.Limit.Text, StringComparison.Ordinal);
        // The battery's own uncertainty was not given, so no side of the limit is claimed.
        Assert.Equal(Standing.CannotTell, result.Limit.Standing);
    }

    // Cable A of the published equations, class 2: 1.551736 kWh/a against 0.144 · 11 + 2.95 = 4.534.
    [Theory]
    [InlineData(null, Standing.CannotTell)]
    [InlineData(0.3, Standing.Inside)]
    [InlineData(0.0, Standing.Inside)]
    public void With_the_limits_of_its_discharge_energy_the_cable_stands_on_a_side(double? withinWh, Standing standing)
    {
        var result = UsAppendixY.Of(Pad with
        {
            Test = new ChargeAndMaintenanceTest(24, Figure.Of(M(18, "Wh", 0.09, "gain")), Figure.Of(M(0.2, "W", 0.001, "gain")), null, []),
            NoBattery = new NoBatteryTest(Figure.Of(M(0.03, "W", 0.00015, "gain")), []),
            Coupling = ChargerCoupling.Wired,
            Placement = PadPlacement.Wired,
            Device = Pad.Device with { BatteryDischargeWithinWh = withinWh },
        });
        Assert.Equal(1.551736026, result.Uec.Value!.Value, 5e-10);
        Assert.Equal(standing, result.Limit!.Standing);
        if (withinWh is { } within)
        {
            // dUEC = 0.365 · 0.54 · 24 / 19 of what is subtracted; equally likely values: half-width / √3.
            double perWh = 0.365 * 0.54 * 24 / 19;
            double battery = perWh * within / Math.Sqrt(3);
            double gain = (perWh * (0.09 - (5 * 0.001))) + (0.365 * 5.29 * 0.00015);
            Assert.Equal(Math.Sqrt((battery * battery) + (gain * gain)), result.Uec.Value.StandardUncertainty!.Value, 1e-12);
        }
    }

    [Fact]
    public void The_limit_beside_a_pad_is_said_to_be_the_cables()
    {
        var result = UsAppendixY.Of(Pad);
        Assert.Equal(UsAppendixY.OfTheCable, result.Limit!.Doubt);
        Assert.Contains(UsAppendixY.OfTheCable, result.Limit.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void With_the_rated_battery_energy_the_procedure_is_not_met_and_the_figure_is_marked()
    {
        var result = UsAppendixY.Of(Pad with { Coupling = ChargerCoupling.Wired, Device = Pad.Device with { BatteryDischargeWh = null } });
        Assert.Equal(ProcedureVerdict.NotMet, result.Verdict);
        Assert.StartsWith("procedure not met (discharge-energy)", result.Text, StringComparison.Ordinal);
        Assert.Contains("rated", result.Uec.Assumed, StringComparison.Ordinal);
        Assert.NotNull(result.Uec.Value);
    }

    [Fact]
    public void What_is_missing_is_named_and_no_number_stands_for_it()
    {
        Assert.Contains("battery-discharge", UsAppendixY.Of(Pad with { Device = new DeviceInfo { BatteryV = 3.85 } }).Uec.WhyNot,
            StringComparison.Ordinal);
        Assert.Contains("battery-voltage", UsAppendixY.Of(Pad with { Device = new DeviceInfo { BatteryDischargeWh = 11 } }).Uec.WhyNot,
            StringComparison.Ordinal);
        var noLog = UsAppendixY.Of(Pad with { NoBattery = null });
        Assert.Equal("there is no log of the charger with no battery", noLog.Uec.WhyNot);
        Assert.Contains(noLog.Checks, c => c is { Id: "no-battery-period", State: ConditionState.NotMet });
    }

    [Fact]
    public void A_tooth_brush_charger_in_the_bathroom_is_class_1_and_in_scope()
    {
        var brush = Pad with
        {
            Coupling = ChargerCoupling.InductiveWet,
            Placement = PadPlacement.FixedLocation,
            Device = new DeviceInfo { BatteryDischargeWh = 2.0, BatteryV = 3.6 },
        };
        var result = UsAppendixY.Of(brush with
        {
            Test = new ChargeAndMaintenanceTest(24, Figure.Of(Measured.Exact(12, "Wh")), Figure.Of(Measured.Exact(0.4, "W")), null, []),
            NoBattery = new NoBatteryTest(Figure.Of(Measured.Exact(0.35, "W")), []),
        });
        Assert.Equal(1, result.Class!.Number);
        Assert.Equal(ProcedureVerdict.NothingAgainst, result.Verdict);
        Assert.Equal(3.051035, result.Uec.Value!.Value, 5e-7);
        Assert.Equal(ProcedureVerdict.OutsideScope,
            UsAppendixY.Of(brush with { Device = new DeviceInfo { BatteryDischargeWh = 6, BatteryV = 3.6 } }).Verdict);
    }

    [Theory]
    [InlineData(11, 3.85, ChargerCoupling.Wired, 2)]
    [InlineData(11, 4.0, ChargerCoupling.Wired, 3)]
    [InlineData(50, 10.0, ChargerCoupling.Wired, 3)]
    [InlineData(50, 10.8, ChargerCoupling.Wired, 4)]
    [InlineData(100, 14.4, ChargerCoupling.Wired, 5)]
    [InlineData(3000, 36, ChargerCoupling.Wired, 6)]
    [InlineData(3001, 12, ChargerCoupling.Wired, 7)]
    [InlineData(5, 3.6, ChargerCoupling.InductiveWet, 1)]
    [InlineData(5.1, 3.6, ChargerCoupling.InductiveWet, 2)]
    [InlineData(5, 3.6, ChargerCoupling.Wired, 2)]
    public void The_class_follows_energy_voltage_and_coupling(double wh, double v, ChargerCoupling coupling, int number) =>
        Assert.Equal(number, UsageClass.For(wh, v, coupling).Number);

    [Fact]
    public void What_the_figures_share_is_carried_through_the_equation()
    {
        // Equation (ii): coefficients n·24/19 for E24, −5·n·24/19 for Pm, tsb for Psb; one gain in all three adds with its signs.
        var result = UnitEnergyConsumption.Of(UsageClass.Of(2), M(26, "Wh", 0.13, "gain"), M(0.6, "W", 0.003, "gain"),
            M(0.25, "W", 0.00125, "gain"), Measured.Exact(0, "W"), M(11, "Wh", 0.1, "battery"), 24);
        double c = 0.54 * 24 / 19;
        double gain = (c * 0.13) - (5 * c * 0.003) + (5.29 * 0.00125);
        Assert.Equal(0.365 * Math.Sqrt((gain * gain) + (c * 0.1 * c * 0.1)), result.KwhPerYear.StandardUncertainty!.Value, 1e-12);
    }

    [Fact]
    public void Equation_one_counts_the_hours_of_maintenance()
    {
        // Class 4 at 24 h: 16.84 − 19 · 0.5 = 7.34 h of maintenance; (20 − 1 − 10) · 0.5 + 0.2 · 7.34 + 0.1 · 0.91 = 6.059 Wh.
        var result = UnitEnergyConsumption.Of(UsageClass.Of(4), Measured.Exact(20, "Wh"), Measured.Exact(0.2, "W"),
            Measured.Exact(0.1, "W"), Measured.Exact(0, "W"), Measured.Exact(10, "Wh"), 24);
        Assert.Equal(UecEquation.One, result.Equation);
        Assert.Equal(6.059, result.WhPerDay.Value, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            UnitEnergyConsumption.Of(UsageClass.Of(4), Measured.Exact(20, "Wh"), Measured.Exact(0.2, "W"), Measured.Exact(0.1, "W"),
            Measured.Exact(0, "W"), Measured.Exact(10, "Wh"), 5));
    }

    [Fact]
    public void Appendix_Y1_shows_only_the_no_battery_power_of_an_open_pad_and_all_of_a_fixed_one()
    {
        var open = UsAppendixY.Of(Pad).AppendixY1;
        Assert.Equal(0.25, open.NoBatteryPower.Value!.Value);
        Assert.Null(open.ActiveChargeEnergy.Value);
        Assert.Null(open.MaintenancePower.Value);
        var fixedPlace = UsAppendixY.Of(Pad with { Placement = PadPlacement.FixedLocation }).AppendixY1;
        Assert.Equal(18, fixedPlace.ActiveChargeEnergy.Value!.Value);
        Assert.Equal(0.85, fixedPlace.StandbyPower.Value!.Value, 1e-12);
        Assert.Contains("does not apply", fixedPlace.OffPower.WhyNot, StringComparison.Ordinal);
        Assert.Contains(fixedPlace.Notes, n => n.Contains("from memory", StringComparison.Ordinal));
    }

    [Fact]
    public void A_single_unit_represents_no_model()
    {
        var value = RepresentedValue.Of([2.2]);
        Assert.Null(value.Represented);
        Assert.NotNull(value.WhyNot);
    }
}
