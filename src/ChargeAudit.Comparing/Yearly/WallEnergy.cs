using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>
/// The wall side of a method that was measured on the DC side only, by an adapter's efficiency and no-load power. Every figure says what it
/// rests on. An adapter is taken to be P_wall = P0 + s · P_usb, with P0 its no-load power and s chosen so that a charge has the given
/// efficiency: at a light load its efficiency is much lower than over a charge, so without P0 nothing is said about stand-by.
/// </summary>
internal static class WallEnergy
{
    /// <summary>The figures at the wall.</summary>
    /// <param name="usb">The figures on the DC side.</param>
    /// <param name="adapter">The adapter.</param>
    /// <param name="kind">By cable, nothing is drawn on the DC side when no device is connected.</param>
    /// <exception cref="InputException">Efficiency and no-load power contradict each other.</exception>
    public static PointResult FromUsb(PointResult usb, Adapter adapter, MethodKind kind)
    {
        double meanW = usb.EnergyPerCharge.Value is { } e && usb.ChargeDurationS > 0 ? e.Value * 3600 / usb.ChargeDurationS : 0;
        if (adapter.NoLoad is { } p0 && meanW > 0 && (1 / adapter.Efficiency.Value) - (p0.Value / meanW) < 1)
        {
            throw new InputException(
                InputProblem.Unusable,
                InvariantText.Of(
                    $"[adapter] `no-load` of {p0.Value:0.###} W cannot go with an efficiency of {100 * adapter.Efficiency.Value:0.#} "
                    + $"% at the charge's mean of {meanW:0.##} W: give a lower `no-load` or a lower efficiency"));
        }

        var noLoad = usb.NoLoadPower.Value is null && kind == MethodKind.Wired ? Figure.Of(Measured.Exact(0, "W")) : usb.NoLoadPower;
        return new PointResult(
            Charge(usb.EnergyPerCharge, adapter),
            [.. usb.RunEnergiesWh.Select(wh => wh / adapter.Efficiency.Value)],
            usb.ChargeDurationS,
            LightLoad(usb.MaintenancePower, usb, meanW, adapter),
            LightLoad(noLoad, usb, meanW, adapter));
    }

    private static Figure Charge(Figure energy, Adapter adapter) => energy.Value is { } wh
        ? Figure.Of(Measured.Quotient(wh, adapter.Efficiency, "Wh"), Figure.Joined(energy.Assumed, adapter.Origin))
        : energy;

    private static Figure LightLoad(Figure power, PointResult usb, double meanW, Adapter adapter)
    {
        if (power.Value is not { } w)
        {
            return power;
        }

        if (adapter.NoLoad is not { } p0)
        {
            return Figure.None(
                "the adapter's power with nothing connected is not known, and its efficiency at a light load is not that of a charge: give "
                + "`no-load` under [adapter], or log at the wall");
        }

        if (w.Value != 0 && meanW <= 0)
        {
            return Figure.None("the charge itself was not measured, so the adapter's efficiency cannot be carried over to a light load");
        }

        double eta = adapter.Efficiency.Value;
        double share = meanW > 0 ? w.Value / meanW : 0;
        double wall = p0.Value + (w.Value / eta) - (p0.Value * share);
        var terms = new List<(double, Measured)> { (1 - share, p0), (-w.Value / (eta * eta), adapter.Efficiency),
            (meanW > 0 ? (1 / eta) - (p0.Value / meanW) : 1 / eta, w) };
        if (meanW > 0)
        {
            terms.Add((p0.Value * share / usb.EnergyPerCharge.Value!.Value, usb.EnergyPerCharge.Value));
        }

        return Figure.Of(Measured.Combine(wall, "W", terms), Figure.Joined(power.Assumed, adapter.LightLoadOrigin));
    }
}
