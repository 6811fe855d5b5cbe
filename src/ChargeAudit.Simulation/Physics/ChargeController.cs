using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Physics;

/// <summary>The device's charger as a function: state and what is allowed in, what it takes and the state after out.</summary>
internal static class ChargeController
{
    /// <summary>One step with everything held constant.</summary>
    /// <param name="device">The device.</param>
    /// <param name="state">Its state before.</param>
    /// <param name="limitW">Most that it may take from its input. [W]</param>
    /// <param name="backgroundW">Its own consumption. [W]</param>
    /// <param name="durationS">Length of the step. [s]</param>
    public static DeviceStep Step(DeviceModel device, DeviceState state, double limitW, double backgroundW, double durationS)
    {
        double openV = device.Curve.VoltageV(state.Share);
        ChargeStage stage = NextStage(device, state, openV);
        double drainW = stage == ChargeStage.Ended ? device.DrainWhenFullW : 0;
        double currentA = stage switch
        {
            // What the battery itself feeds: V·I = drain with V = E − R·I.
            ChargeStage.Ended => -(openV - Math.Sqrt((openV * openV) - (4 * device.CellOhm * drainW))) / (2 * device.CellOhm),
            ChargeStage.Trickle => Limited(device, openV, device.TrickleCurrentA, limitW, backgroundW),
            ChargeStage.ConstantCurrent => Limited(device, openV, device.ChargeCurrentA, limitW, backgroundW),
            _ => Limited(device, openV, (device.ChargeVoltageV - openV) / device.CellOhm, limitW, backgroundW),
        };

        // The capacity follows from energy and curve; the step's mean voltage from the energy under the curve, so nothing is lost to the
        // step's length.
        double capacityAs = device.BatteryWh * 3600 / device.Curve.MeanV;
        double shareAfter = state.Share + (currentA * durationS / capacityAs);
        double storedW = (device.Curve.AreaV(shareAfter) - device.Curve.AreaV(state.Share)) * capacityAs / durationS;
        double cellW = currentA * currentA * device.CellOhm;
        double terminalW = storedW + cellW;
        double terminalV = currentA == 0 ? openV : terminalW / currentA;

        // A drained battery feeds its load behind the charger: that power does not pass through it.
        double fromInputW = stage == ChargeStage.Ended ? 0 : terminalW;
        double chargerW = device.ChargerFixedW + (device.ChargerShare * (fromInputW + backgroundW))
            + (stage == ChargeStage.Ended ? 0 : currentA * currentA * device.ChargerOhm);
        double ownW = backgroundW + (stage == ChargeStage.Ended ? -terminalW : 0);
        double endV = stage == ChargeStage.Ended ? (state.Stage == ChargeStage.Ended ? state.EndVoltageV : openV) : double.NaN;
        return new DeviceStep(
            fromInputW + backgroundW + chargerW, terminalV, currentA, storedW, chargerW, cellW, ownW, state with
            {
                Share = shareAfter,
                Stage = stage,
                EndVoltageV = endV,
            });
    }

    /// <summary>Warms the device by one step, by the implicit rule: stable at any length and without an exponential.</summary>
    public static DeviceState Warm(DeviceModel device, DeviceState state, double heatW, double durationS)
    {
        double goalC = device.AmbientC + (device.ThermalKPerW * heatW);
        double temperatureC = state.TemperatureC + ((goalC - state.TemperatureC) * durationS / (device.ThermalTimeS + durationS));
        bool throttled = state.Throttled ? temperatureC > device.ResumeBelowC : temperatureC > device.ThrottleAboveC;
        return state with { TemperatureC = temperatureC, Throttled = throttled };
    }

    private static ChargeStage NextStage(DeviceModel device, DeviceState state, double openV)
    {
        if (state.Stage == ChargeStage.Ended && !(device.TopUpDropV > 0 && openV <= state.EndVoltageV - device.TopUpDropV))
        {
            return ChargeStage.Ended;
        }

        double constantVoltageA = (device.ChargeVoltageV - openV) / device.CellOhm;
        return constantVoltageA switch
        {
            _ when openV < device.TrickleBelowV => ChargeStage.Trickle,
            _ when constantVoltageA <= device.TerminationCurrentA => ChargeStage.Ended,
            _ when constantVoltageA < device.ChargeCurrentA => ChargeStage.ConstantVoltage,
            _ => ChargeStage.ConstantCurrent,
        };
    }

    /// <summary>The wanted current, or that at which the input takes just what it may; below zero where the battery must help.</summary>
    private static double Limited(DeviceModel device, double openV, double wantedA, double limitW, double backgroundW)
    {
        double quadratic = ((1 + device.ChargerShare) * device.CellOhm) + device.ChargerOhm;
        double linear = (1 + device.ChargerShare) * openV;
        double rest = device.ChargerFixedW + ((1 + device.ChargerShare) * backgroundW) - limitW;
        if (double.IsInfinity(rest) || (quadratic * wantedA * wantedA) + (linear * wantedA) + rest <= 0)
        {
            return wantedA;
        }

        // The stable form of the smaller root.
        return -2 * rest / (linear + Math.Sqrt(Math.Max(0, (linear * linear) - (4 * quadratic * rest))));
    }
}
