using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

public sealed class ChargePhysicsTests
{
    [Fact]
    public void The_current_is_constant_then_the_voltage_until_the_termination_current()
    {
        SimulationScenario scenario = SmallScenario.Short(0.5);
        scenario = scenario with
        {
            Runs = [scenario.Runs[0] with { Method = scenario.Runs[0].Method with { InputLimitW = 100, NegotiationW = 100 } }],
        };
        PowerTrace trace = Simulator.Run(scenario, 1).Runs[0].Trace;
        List<FlowStep> charge = [.. trace.Steps.Where(s => s.Mode == Mode.Charge)];
        DeviceModel device = scenario.Device;
        Assert.All(charge, s => Assert.True(s.BatteryA <= device.ChargeCurrentA + 1e-12));
        // The step's current holds for its mean voltage, so the voltage may pass the limit by a second's rise.
        Assert.All(charge, s => Assert.True(s.BatteryV <= device.ChargeVoltageV + 1e-3));
        int constant = charge.TakeWhile(s => s.BatteryA > device.ChargeCurrentA - 1e-12).Count();
        Assert.InRange(constant, 1000, charge.Count - 600);
        Assert.All(charge.Skip(constant + 1), s => Assert.Equal(device.ChargeVoltageV, s.BatteryV, 1e-3));
        Assert.InRange(charge[^1].BatteryA, device.TerminationCurrentA, device.TerminationCurrentA * 1.01);
    }

    [Fact]
    public void A_deeply_discharged_cell_gets_the_trickle_current_first()
    {
        SimulationScenario scenario = SmallScenario.Short(0.001, d => d with { TrickleBelowV = 3.35 });
        PowerTrace trace = Simulator.Run(scenario, 1).Runs[0].Trace;
        FlowStep first = trace.Steps.First(s => s.Mode == Mode.Charge);
        Assert.Equal(scenario.Device.TrickleCurrentA, first.BatteryA, 1e-12);
        Assert.Contains(trace.Steps, s => s.BatteryA > 5 * scenario.Device.TrickleCurrentA);
    }

    [Fact]
    public void Top_ups_belong_to_maintenance()
    {
        SimulationScenario scenario = SmallScenario.Short(0.95, d => d with { DrainWhenFullW = 0.3, TopUpDropV = 0.002 });
        scenario = scenario with { Runs = [scenario.Runs[0] with { MaintenanceS = 3600 }] };
        PowerTrace trace = Simulator.Run(scenario, 1).Runs[0].Trace;
        Assert.Equal([Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad], trace.Modes.Select(m => m.Mode));
        Assert.True(trace.Steps.Count(s => s.Mode == Mode.Maintenance && s.BatteryA > 0.1) > 5, "the battery is topped up");
        Assert.True(trace.Steps.Count(s => s.Mode == Mode.Maintenance && s.BatteryA < 0) > 600, "and feeds the device in between");
    }

    [Fact]
    public void A_warm_device_asks_for_less_and_stays_near_its_limit()
    {
        SimulationScenario scenario = SmallScenario.Short(0.1);
        PowerTrace free =
            Simulator.Run(scenario with { Device = scenario.Device with { ThrottleAboveC = double.PositiveInfinity } }, 1).Runs[1].Trace;
        PowerTrace throttled = Simulator.Run(scenario, 1).Runs[1].Trace;
        double limit = scenario.Device.ThrottleAboveC;
        Assert.True(free.Steps.Max(s => s.TemperatureC) > limit + 1, "without a limit it gets warmer");
        Assert.True(throttled.Steps.Max(s => s.TemperatureC) < limit + 0.1);
        Assert.True(throttled.DurationOfS(Mode.Charge) > free.DurationOfS(Mode.Charge) + 300, "and the charge takes longer");
    }

    /// <summary>With constant heat the warming is first order: after one time constant 63.2 % of the end value; the implicit rule at 1 s of
    /// 1080 s is 0.05 % off at most.</summary>
    [Fact]
    public void Warming_follows_its_time_constant()
    {
        SimulationScenario scenario = SmallScenario.Short(0.1, d => d with
        {
            BackgroundSpread = 0,
            BurstW = 0,
            ThrottleAboveC = double.PositiveInfinity,
        });
        PowerTrace trace = Simulator.Run(scenario, 1).Runs[1].Trace;
        DeviceModel device = scenario.Device;
        List<FlowStep> steps = [.. trace.Steps.Where(s => s.Mode == Mode.Charge)];
        double simulated = steps[(int)device.ThermalTimeS].TemperatureC;
        double heatW = steps.Take((int)device.ThermalTimeS).Average(s => s.Losses.InDeviceW);
        double expected = device.AmbientC + (device.ThermalKPerW * heatW * (1 - Math.Exp(-1)));
        Assert.Equal(expected, simulated, 0.3);
    }

    [Fact]
    public void Negotiation_holds_the_power_down()
    {
        PowerTrace trace = Simulator.Run(SmallScenario.Short(0.3), 1).Runs[1].Trace;
        List<FlowStep> charge = [.. trace.Steps.Where(s => s.Mode == Mode.Charge)];
        double start = charge[0].StartS;
        Assert.All(charge.Where(s => s.StartS < start + 9), s => Assert.Equal(3, s.PowerW(MeasuringPoint.Device), 1e-3));
        Assert.True(charge.First(s => s.StartS >= start + 9).PowerW(MeasuringPoint.Device) > 7);
    }

    [Fact]
    public void The_further_off_the_pad_the_more_energy()
    {
        SimulationScenario scenario = SmallScenario.Short();
        double[] energies = [.. new[] { 0, 0.004, 0.008, 0.012 }.Select(offset =>
        {
            RunPlan plan = scenario.Runs[1] with { OffsetM = offset, OffsetSpreadM = 0 };
            PowerTrace trace = Simulator.Run(scenario with { Runs = [plan] }, 1).Runs[0].Trace;
            Assert.Equal(offset, trace.OffsetM);
            return trace.EnergyWh(MeasuringPoint.Wall, Mode.Charge);
        })];
        Assert.Equal(energies.Order(), energies);
        Assert.True(energies[^1] > 1.05 * energies[0]);
    }

    [Fact]
    public void A_waiting_pad_takes_its_mean_with_pulses_through_the_adapter()
    {
        SimulatedRun waiting = Simulator.Run(SmallScenario.Sample with { Runs = [] }, 1).Waiting[1];
        MethodModel method = waiting.Plan.Method;
        PadModel pad = method.Pad!;
        double mean = waiting.Trace.MeanW(MeasuringPoint.Wall, Mode.NoLoad);
        double padW = pad.WaitingW + (pad.PulseW * pad.PulseLengthS / pad.PulseEveryS);
        // Left out are the resistive losses: 0.36 Ω at a mean square current of 1.1e-3 A², 0.4 mW.
        Assert.Equal(method.Adapter.NoLoadW + (padW * (1 + method.Adapter.Share)), mean, 5e-4);
        Assert.Equal(2, waiting.Trace.Steps.Select(s => Math.Round(s.WallW, 3)).Distinct().Count());
    }

    [Fact]
    public void An_adapter_that_is_too_weak_is_said_so()
    {
        SimulationScenario scenario = SmallScenario.Short();
        RunPlan plan = scenario.Runs[0] with { Method = scenario.Runs[0].Method with { Cable = new CableModel("thin", 20) } };
        InputException problem = Assert.Throws<InputException>(() => Simulator.Run(scenario with { Runs = [plan] }, 1));
        Assert.Contains("the adapter cannot deliver", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_charge_that_never_ends_is_said_so()
    {
        SimulationScenario scenario = SmallScenario.Short(0.5);
        RunPlan plan = scenario.Runs[0] with { Method = scenario.Runs[0].Method with { InputLimitW = 0.1 } };
        InputException problem = Assert.Throws<InputException>(() => Simulator.Run(scenario with { Runs = [plan] }, 1));
        Assert.Contains("does not end within 48 h", problem.Message, StringComparison.Ordinal);
    }
}
