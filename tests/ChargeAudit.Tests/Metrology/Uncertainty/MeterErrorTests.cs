using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class MeterErrorTests
{
    private const double Third = 0.57735026918962584;

    // 9 V, 2 A for an hour: 64 800 J.
    private static readonly EnergySensitivities Steady = new()
    {
        EnergyJ = 64_800,
        DurationS = 3600,
        VoltSeconds = 9 * 3600,
        ChargeC = 2 * 3600,
        ApparentJ = 64_800,
        LogId = "cable-1-usb",
    };

    private static Dictionary<LogQuantity, MeterAccuracy> Sheet(params (LogQuantity Quantity, string Text)[] lines) =>
        lines.ToDictionary(l => l.Quantity, l => MeterAccuracy.TryParse(l.Text, l.Quantity, out var a, out string? error)
            ? a
            : throw new ArgumentException(error));

    private static double Of(MeterErrors errors, string id) => errors.Components.Single(c => c.Source.Id == id).SignedStandardUncertainty;

    [Fact]
    public void Voltage_times_current_inherits_from_both()
    {
        var errors = MeterError.ForEnergy(
            "bench", Sheet((LogQuantity.Voltage, "0.05 % + 2 mV"), (LogQuantity.Current, "0.1 % + 1 mA")), Steady,
                PowerBasis.VoltageTimesCurrent);

        Assert.Null(errors.UnknownBecause);
        Assert.Equal(Third * 0.0005 * 64_800, Of(errors, "meter:bench/voltage-gain"), 1e-9);
        Assert.Equal(Third * 0.002 * 7200, Of(errors, "meter:bench/voltage-offset"), 1e-9);
        Assert.Equal(Third * 0.001 * 64_800, Of(errors, "meter:bench/current-gain"), 1e-9);
        Assert.Equal(Third * 0.001 * 32_400, Of(errors, "meter:bench/current-offset"), 1e-9);
        Assert.All(errors.Components, c => Assert.True(c.Source.Shared));
    }

    [Fact]
    public void The_same_meter_on_both_sides_cancels_in_the_ratio()
    {
        // Gain 0.5 % (as a standard uncertainty) on 19.8 Wh and 13.2 Wh: r = 1 leaves nothing of it.
        var sheet = Sheet((LogQuantity.Power, "0.5 % normal k=1"));
        var pad =
            Figure(19.8, MeterError.ForEnergy("bench", sheet, new EnergySensitivities { EnergyJ = 19.8 * 3600 }, PowerBasis.PowerColumn));
        var cable =
            Figure(13.2, MeterError.ForEnergy("bench", sheet, new EnergySensitivities { EnergyJ = 13.2 * 3600 }, PowerBasis.PowerColumn));
        var elsewhere =
            Figure(13.2, MeterError.ForEnergy("plug", sheet, new EnergySensitivities { EnergyJ = 13.2 * 3600 }, PowerBasis.PowerColumn));

        Assert.Equal(0, Measured.Quotient(pad, cable).StandardUncertainty!.Value, 1e-15);
        Assert.Equal(1.5 * 0.005 * Math.Sqrt(2), Measured.Quotient(pad, elsewhere).StandardUncertainty!.Value, 1e-12);
    }

    [Fact]
    public void Clauses_below_and_above_a_limit_err_together()
    {
        // 3600 J of it below 1 W: 2 % of that and 1 % of the rest, added, not in quadrature.
        var sensitivities = Steady with
        {
            Below = (_, limit) => new EnergySensitivities { EnergyJ = limit == 1 ? 3600 : 0, DurationS = 1800 },
        };
        var errors = MeterError.ForEnergy("plug", Sheet((LogQuantity.Power, "2 % + 10 mW below 1 W else 1 %")), sensitivities,
            PowerBasis.PowerColumn);

        Assert.Equal(Third * ((0.02 * 3600) + (0.01 * 61_200)), Of(errors, "meter:plug/power-gain"), 1e-9);
        Assert.Equal(Third * 0.010 * 1800, Of(errors, "meter:plug/power-offset"), 1e-9);
    }

    [Fact]
    public void Without_the_split_the_widest_clause_is_taken()
    {
        var errors = MeterError.ForEnergy("plug", Sheet((LogQuantity.Power, "2 % below 1 W else 1 %")), Steady, PowerBasis.PowerColumn);
        Assert.Equal(Third * 0.02 * 64_800, Of(errors, "meter:plug/power-gain"), 1e-9);
    }

    [Fact]
    public void A_meter_that_states_nothing_gives_a_reason_and_no_zero()
    {
        var errors = MeterError.ForEnergy("plug", Sheet((LogQuantity.Voltage, "1 %")), Steady, PowerBasis.VoltageTimesCurrent);
        Assert.Equal("the accuracy of meter plug for current is not stated", errors.UnknownBecause);
        Assert.Single(errors.Components);
        Assert.Equal("no meter is named, so its accuracy of power is not known",
            MeterError.ForEnergy(null, Sheet(), Steady, PowerBasis.PowerColumn).UnknownBecause);
        Assert.Equal("no meter is named, so its accuracy of voltage and current is not known",
            MeterError.ForEnergy(null, Sheet(), Steady, PowerBasis.VoltageTimesCurrent).UnknownBecause);
    }

    [Fact]
    public void Digits_take_their_size_from_the_log()
    {
        var sheet = Sheet((LogQuantity.Power, "1 % + 3 digits"));
        Assert.Equal(
            "meter plug states its power in digits and their size is not known",
                MeterError.ForEnergy("plug", sheet, Steady, PowerBasis.PowerColumn).UnknownBecause);

        var steps = new Dictionary<LogQuantity, double> { [LogQuantity.Power] = 0.01 };
        var errors = MeterError.ForEnergy("plug", sheet, Steady, PowerBasis.PowerColumn, steps);
        Assert.Equal(Third * 0.03 * 3600, Of(errors, "meter:plug/power-offset"), 1e-9);
    }

    [Fact]
    public void A_power_factor_brings_its_own_errors()
    {
        // 230 V, 0.1 A, power factor 0.5 for an hour.
        var mains = new EnergySensitivities
        {
            EnergyJ = 41_400,
            DurationS = 3600,
            VoltSeconds = 828_000,
            ChargeC = 360,
            ApparentJ = 82_800,
        };
        var errors = MeterError.ForEnergy(
            "plug",
            Sheet((LogQuantity.Voltage, "1 V"), (LogQuantity.Current, "1 mA"), (LogQuantity.PowerFactor, "0.01")),
            mains,
            PowerBasis.VoltageTimesCurrentTimesPowerFactor);

        Assert.Equal(Third * 1 * 180, Of(errors, "meter:plug/voltage-offset"), 1e-9);
        Assert.Equal(Third * 0.001 * 414_000, Of(errors, "meter:plug/current-offset"), 1e-9);
        Assert.Equal(Third * 0.01 * 82_800, Of(errors, "meter:plug/power-factor-offset"), 1e-9);
    }

    [Fact]
    public void Apparent_power_has_its_own_line()
    {
        var mains = new EnergySensitivities { EnergyJ = 41_400, DurationS = 3600, ApparentJ = 82_800 };
        var errors = MeterError.ForEnergy(
            "plug", Sheet((LogQuantity.ApparentPower, "1 % + 0.1 VA"), (LogQuantity.PowerFactor, "0.01")), mains,
                PowerBasis.ApparentPowerTimesPowerFactor);
        Assert.Equal(Third * 0.01 * 41_400, Of(errors, "meter:plug/apparent-power-gain"), 1e-9);
        Assert.Equal(Third * 0.1 * 1800, Of(errors, "meter:plug/apparent-power-offset"), 1e-9);
    }

    [Fact]
    public void A_counter_errs_at_its_first_and_last_reading()
    {
        var errors = MeterError.ForEnergy("plug", Sheet((LogQuantity.Energy, "1 % + 1 Wh"), (LogQuantity.Time, "50 ppm")), Steady,
            PowerBasis.EnergyCounter);
        Assert.Equal(Third * 648, Of(errors, "meter:plug/energy-gain"), 1e-9);
        Assert.Equal(-Third * 3600, Of(errors, "log:cable-1-usb/counter-first"), 1e-9);
        Assert.Equal(Third * 3600, Of(errors, "log:cable-1-usb/counter-last"), 1e-9);
        Assert.DoesNotContain(errors.Components, c => c.Source.Id.EndsWith("/clock", StringComparison.Ordinal));
    }

    [Fact]
    public void The_clock_stretches_energy_and_charge_alike()
    {
        var sheet = Sheet((LogQuantity.Current, "0.1 % + 1 mA"), (LogQuantity.Voltage, "0.1 %"), (LogQuantity.Time, "50 ppm"));
        var energy = MeterError.ForEnergy("bench", sheet, Steady, PowerBasis.VoltageTimesCurrent);
        var charge = MeterError.ForCharge("bench", sheet, Steady);
        Assert.Equal(Third * 50e-6 * 64_800, Of(energy, "meter:bench/clock"), 1e-9);
        Assert.Equal(Third * 50e-6 * 7200, Of(charge, "meter:bench/clock"), 1e-9);
        Assert.Equal(Third * 0.001 * 3600, Of(charge, "meter:bench/current-offset"), 1e-9);
    }

    private static Measured Figure(double wattHours, MeterErrors errors) =>
        Measured.From(wattHours * 3600, "J", errors.Components, errors.UnknownBecause).In("Wh", 1 / 3600.0);
}
