using ChargeAudit.Comparing.Losses;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Losses;

public sealed class LossSplitTests
{
    [Fact]
    public void Neighbouring_points_give_each_stage_and_the_parts_add_up()
    {
        var parts =
            LossSplit.Of(Input(MethodKind.Wired, (MeasuringPoint.Wall, 20), (MeasuringPoint.Usb, 17.5), (MeasuringPoint.Device, 17),
            (MeasuringPoint.Battery, 15)));
        Assert.Equal(["adapter", "cable", "device electronics"], parts.Select(LossSplit.Name));
        Assert.Equal(5, parts.Sum(p => p.EnergyWh.Value!.Value), 12);
    }

    [Fact]
    public void What_no_meter_parts_is_not_separated()
    {
        var part = Assert.Single(LossSplit.Of(Input(MethodKind.Inductive, (MeasuringPoint.Wall, 24), (MeasuringPoint.Device, 15))));
        Assert.Equal("adapter, cable, pad and receiver (not separated)", LossSplit.Name(part));
        Assert.Equal(9, part.EnergyWh.Value!.Value, 12);
    }

    [Fact]
    public void A_stated_cable_takes_its_part_out()
    {
        var input = Input(MethodKind.Inductive, (MeasuringPoint.Usb, 20), (MeasuringPoint.Device, 14)) with
        {
            CableOhm = 0.18,
            CurrentSquaredA2S = 2 * 2 * 7200,
        };
        var parts = LossSplit.Of(input);
        Assert.Equal(["cable", "pad and receiver"], parts.Select(LossSplit.Name));

        // By hand: 0.18 Ω · 4 A² · 2 h.
        Assert.Equal(1.44, parts[0].EnergyWh.Value!.Value, 12);
        Assert.Equal(4.56, parts[1].EnergyWh.Value!.Value, 12);
        Assert.NotNull(parts[0].EnergyWh.Assumed);
    }

    [Fact]
    public void The_cable_alone_without_its_resistance_is_not_separated()
    {
        Assert.StartsWith("not separated", LossSplit.CableWh(Input(MethodKind.Wired, (MeasuringPoint.Usb, 20))).WhyNot,
            StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_battery_stored_closes_the_way()
    {
        var input = Input(MethodKind.Wired, (MeasuringPoint.Usb, 17)) with { StoredWh = Measured.Exact(14.5, "Wh") };
        var part = Assert.Single(LossSplit.Of(input));
        Assert.Equal([LossPlace.Cable, LossPlace.DeviceElectronics, LossPlace.Battery], part.Places);
        Assert.Null(part.To);
    }

    [Fact]
    public void An_efficiency_up_to_one_is_not_flagged() =>
        Assert.Null(EfficiencyCheck.Of(Measured.Exact(10, "Wh"), Measured.Exact(9.9, "Wh"), ClocksState.NotAligned));

    [Fact]
    public void An_efficiency_over_one_names_its_probability_and_reasons()
    {
        var check = EfficiencyCheck.Of(With(10, 0.03, "a"), With(10.05, 0.04, "b"), ClocksState.NotAligned)!;

        // By hand: 0.05 Wh over √(0.03² + 0.04²) = 0.05 Wh is one standard uncertainty: 15.87 %.
        Assert.Equal(0.1587, check.Probability!.Value, 4);
        Assert.Contains("clocks", check.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("swapped", check.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Swapped_logs_are_guessed_and_unknown_uncertainty_is_said()
    {
        var check =
            EfficiencyCheck.Of(Measured.Unknown(15, "Wh", "no accuracy"), Measured.Unknown(18, "Wh", "no accuracy"), ClocksState.Aligned)!;
        Assert.Null(check.Probability);
        Assert.Contains("swapped", check.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("clocks", check.Text, StringComparison.Ordinal);
    }

    private static Measured With(double value, double u, string source) =>
        Measured.From(value, "Wh", [new UncertaintyComponent(new InfluenceSource(source), u)]);

    private static LossInput Input(MethodKind kind, params (MeasuringPoint Point, double Wh)[] energies) => new()
    {
        Kind = kind,
        EnergyWh = energies.ToDictionary(e => e.Point, e => Measured.Exact(e.Wh, "Wh")),
    };
}
