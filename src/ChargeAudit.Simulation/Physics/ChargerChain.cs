using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Physics;

/// <summary>What flows at a charger's points, and what it loses, for one demand of the device.</summary>
/// <param name="WallW">From the mains. [W]</param>
/// <param name="PowerFactor">There. [1]</param>
/// <param name="UsbV">Adapter's output. [V]</param>
/// <param name="UsbA">Out of the adapter. [A]</param>
/// <param name="DeviceV">At the device's input. [V]</param>
/// <param name="DeviceA">Into the device. [A]</param>
/// <param name="Losses">Those of the charger; the device's own parts are zero.</param>
internal readonly record struct ChainStep(double WallW, double PowerFactor, double UsbV, double UsbA, double DeviceV, double DeviceA,
    PowerLosses Losses);

/// <summary>The way from wall to device, worked out from the device upwards.</summary>
internal static class ChargerChain
{
    /// <summary>With a device that takes power.</summary>
    /// <param name="method">Adapter, cable and pad.</param>
    /// <param name="coupling">Of the coils; not used by cable. [1]</param>
    /// <param name="deviceW">What the device takes. [W]</param>
    public static ChainStep Loaded(MethodModel method, double coupling, double deviceW)
    {
        if (method.Pad is not { } pad)
        {
            return Feed(method, deviceW, default, double.NaN);
        }

        // Receiver: regulator, then rectifier with its voltage drop.
        double regulatorW = pad.ReceiverW + (pad.ReceiverShare * deviceW);
        double rectifiedA = (deviceW + regulatorW) / pad.RectifiedV;
        double rectifierW = rectifiedA * pad.RectifierDropV;
        double secondaryOutW = deviceW + regulatorW + rectifierW;

        // Series–series at resonance. The rectifier is a load of 8/π² times its DC resistance, its current π/(2√2) times the DC one.
        double secondaryA = Math.PI / (2 * Math.Sqrt(2)) * rectifiedA;
        double omega = 2 * Math.PI * pad.FrequencyHz;
        double mutualOhm = omega * coupling * Math.Sqrt(pad.Primary.InductanceH * pad.Secondary.InductanceH);
        double secondaryOhm = omega * pad.Secondary.InductanceH / pad.Secondary.Q;
        double primaryOhm = omega * pad.Primary.InductanceH / pad.Primary.Q;
        double outV = secondaryA == 0 ? 0 : secondaryOutW / secondaryA;
        double primaryA = (outV + (secondaryA * secondaryOhm)) / mutualOhm;
        double secondaryLossW = secondaryA * secondaryA * secondaryOhm;
        double primaryLossW = primaryA * primaryA * primaryOhm;

        double linkW = secondaryOutW + secondaryLossW + primaryLossW;
        double inverterW = pad.ControlW + (pad.InverterShare * linkW) + (primaryA * primaryA * pad.InverterOhm);
        PowerLosses losses = new(0, 0, inverterW, primaryLossW, secondaryLossW, regulatorW + rectifierW, 0, 0, 0);
        // The device's input is the receiver's output; its regulator keeps it at the voltage of the rectifier.
        return Feed(method, linkW + inverterW, losses, pad.RectifiedV) with
        {
            DeviceV = pad.RectifiedV,
            DeviceA = deviceW / pad.RectifiedV,
        };
    }

    /// <summary>With no device.</summary>
    /// <param name="method">Adapter, cable and pad.</param>
    /// <param name="pulse">Whether the pad is just looking for a device.</param>
    public static ChainStep Waiting(MethodModel method, bool pulse)
    {
        double padW = method.Pad is { } pad ? pad.WaitingW + (pulse ? pad.PulseW : 0) : 0;
        return Feed(method, padW, new PowerLosses(0, 0, padW, 0, 0, 0, 0, 0, 0), double.NaN) with { DeviceV = 0, DeviceA = 0 };
    }

    private static ChainStep Feed(MethodModel method, double loadW, PowerLosses losses, double loadV)
    {
        AdapterModel adapter = method.Adapter;
        double lineOhm = adapter.SourceOhm + method.Cable.Ohm;
        double discriminant = (adapter.OutputV * adapter.OutputV) - (4 * lineOhm * loadW);
        if (discriminant <= 0)
        {
            throw new InputException(
                InputProblem.Unusable,
                $"Method '{method.Name}': the adapter cannot deliver what the load takes through {lineOhm:G3} Ω; give it a higher output "
                    + "voltage, a lower resistance or the method an input limit.");
        }

        // The smaller root of V·I = P + R·I², in the form that does not cancel.
        double currentA = 2 * loadW / (adapter.OutputV + Math.Sqrt(discriminant));
        double usbV = adapter.OutputV - (adapter.SourceOhm * currentA);
        double usbW = usbV * currentA;
        double cableW = currentA * currentA * method.Cable.Ohm;
        double adapterW = adapter.NoLoadW + (adapter.Share * usbW) + (adapter.LossOhm * currentA * currentA);
        double wallW = usbW + adapterW;
        double powerFactor = adapter.PowerFactor * wallW / (wallW + adapter.HalfPowerFactorW);
        double deviceV = double.IsNaN(loadV) ? usbV - (method.Cable.Ohm * currentA) : loadV;
        return new ChainStep(wallW, powerFactor, usbV, currentA, deviceV, currentA, losses with { AdapterW = adapterW, CableW = cableW });
    }
}
