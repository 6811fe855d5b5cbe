using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;
using CsCheck;

namespace ChargeAudit.Tests.Simulation;

public sealed class EnergyConservationTests
{
    private static readonly Gen<SimulationScenario> Scenarios = Gen.Select(
        Gen.Select(Gen.Double[0.75, 0.88], Gen.Double[0.02, 0.3], Gen.Double[0.3, 4], Gen.Double[1, 30]),
        Gen.Select(Gen.Double[0, 0.5], Gen.Double[0, 0.2], Gen.Double[0, 0.3], Gen.Double[0, 0.05]),
        Gen.Select(Gen.Double[3, 15], Gen.Double[0, 8], Gen.Double[10, 120], Gen.Double[5, 60])).Select(
        (battery, own, outside) =>
        {
            (double start, double cellOhm, double currentA, double batteryWh) = battery;
            (double backgroundW, double chargerShare, double cableOhm, double drainW) = own;
            (double limitW, double offsetMm, double q1, double q2) = outside;
            SimulationScenario scenario = SmallScenario.Short(start, d => d with
            {
                BatteryWh = batteryWh,
                CellOhm = cellOhm,
                ChargeCurrentA = currentA,
                TerminationCurrentA = currentA / 12,
                BackgroundW = backgroundW,
                ChargerShare = chargerShare,
                DrainWhenFullW = drainW,
                TopUpDropV = 0.001,
            });
            return scenario with
            {
                Runs = [.. scenario.Runs.Select(r => r with
                {
                    OffsetM = offsetMm / 1000,
                    Method = r.Method with
                    {
                        InputLimitW = limitW,
                        Cable = r.Method.Cable with { Ohm = cableOhm },
                        Pad = r.Method.Pad is { } pad
                            ? pad with { Primary = pad.Primary with { Q = q1 }, Secondary = pad.Secondary with { Q = q2 } }
                            : null,
                    },
                })],
            };
        });

    /// <summary>What enters at the wall is what is stored and what each part loses, at every step, to rounding.</summary>
    [Fact]
    public void Energy_is_conserved_at_every_step() =>
        Scenarios.Sample(
            scenario =>
            {
                foreach (SimulatedRun run in Simulator.Run(scenario, 1).Runs)
                {
                    double nowS = 0;
                    foreach (FlowStep step in run.Trace.Steps)
                    {
                        Assert.Equal(nowS, step.StartS);
                        Assert.True(step.DurationS > 0);
                        nowS = step.EndS;
                        double leaving = step.StoredW + step.Losses.SumW;
                        Assert.Equal(step.WallW, leaving, 1e-12 * (step.WallW + 1));
                        double toDevice = step.WallW - step.Losses.AdapterW - step.Losses.CableW - step.Losses.PadW
                            - step.Losses.PrimaryCoilW - step.Losses.SecondaryCoilW - step.Losses.ReceiverW;
                        Assert.Equal(step.PowerW(MeasuringPoint.Device), toDevice, 1e-11 * (step.WallW + 1));
                        Assert.Equal(step.WallW - step.Losses.AdapterW, step.PowerW(MeasuringPoint.Usb), 1e-12 * (step.WallW + 1));
                        Assert.Equal(step.StoredW + step.Losses.CellW, step.PowerW(MeasuringPoint.Battery), 1e-9 * (step.WallW + 1));
                    }
                }
            },
            iter: 16,
            seed: "0000000000001");

    /// <summary>Over a whole run the stored energy is the difference of the state's energy, which is a function of the state of charge
    /// alone.</summary>
    [Fact]
    public void Stored_energy_is_a_function_of_the_state_of_charge() =>
        Scenarios.Sample(
            scenario =>
            {
                DeviceModel device = scenario.Device;
                foreach (SimulatedRun run in Simulator.Run(scenario, 2).Runs)
                {
                    double stored = run.Trace.SumWh(Mode.Charge, s => s.StoredW) + run.Trace.SumWh(Mode.Maintenance, s => s.StoredW);
                    double end = run.Trace.Steps.Last(s => s.Mode == Mode.Maintenance).ShareAfter;
                    double expected = device.BatteryWh * (device.Curve.AreaV(end) - device.Curve.AreaV(run.Trace.StartShare))
                        / device.Curve.MeanV;
                    Assert.Equal(expected, stored, 1e-10 * device.BatteryWh);
                }
            },
            iter: 10,
            seed: "0000000000002");

    [Fact]
    public void Every_loss_but_the_balance_is_not_negative_while_charging()
    {
        foreach (SimulatedRun run in Simulator.Run(SmallScenario.Short(0.3), 3).Runs)
        {
            Assert.All(run.Trace.Steps.Where(s => s.Mode == Mode.Charge), s =>
            {
                PowerLosses l = s.Losses;
                Assert.True(l.AdapterW > 0 && l.CableW > 0 && l.PadW >= 0 && l.PrimaryCoilW >= 0 && l.SecondaryCoilW >= 0
                    && l.ReceiverW >= 0 && l.ChargerW > 0 && l.CellW >= 0 && l.BackgroundW > 0);
                Assert.True(s.PowerW(MeasuringPoint.Wall) > s.PowerW(MeasuringPoint.Usb)
                    && s.PowerW(MeasuringPoint.Usb) > s.PowerW(MeasuringPoint.Device)
                    && s.PowerW(MeasuringPoint.Device) > s.PowerW(MeasuringPoint.Battery));
            });
        }
    }
}
