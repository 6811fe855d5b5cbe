using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>What the US procedure is worked out from, for one charger.</summary>
public sealed record UsAppendixYInput
{
    /// <summary>The charge and maintenance test, at the charger's input.</summary>
    public required ChargeAndMaintenanceTest Test { get; init; }

    /// <summary>The no-battery test; null: there is no log of it.</summary>
    public NoBatteryTest? NoBattery { get; init; }

    /// <summary>The off test; null: the charger has no switch.</summary>
    public NoBatteryTest? Off { get; init; }

    /// <summary>The device: discharge energy, rated energy and voltage of its battery.</summary>
    public required DeviceInfo Device { get; init; }

    /// <summary>How the battery meets the charger.</summary>
    public required ChargerCoupling Coupling { get; init; }

    /// <summary>What sort of charger it is for appendix Y1.</summary>
    public required PadPlacement Placement { get; init; }

    /// <summary>Energy over the charge, for appendix Y1. [Wh]</summary>
    public required Figure ActiveChargeEnergy { get; init; }

    /// <summary>The input of one method from its logs at the charger's input: the wall, as the adapter belongs to the test.</summary>
    /// <param name="method">The method.</param>
    /// <param name="device">The device charged.</param>
    /// <param name="charge">A log of a charge and what follows it, 24 h or longer; null: there is none at the wall.</param>
    /// <param name="fullAtS">When the charger said that the battery is full; null: it did not say. [s]</param>
    /// <param name="waiting">A log with no device; null: there is none.</param>
    public static UsAppendixYInput From(Method method, DeviceInfo device, MeasuredLog? charge, double? fullAtS, MeasuredLog? waiting)
    {
        var sessions = charge?.Result.Sessions ?? [];
        string noLog = $"no run of {method.Name} was measured at the wall: log the wall for 24 h from the start of a charge";
        return new UsAppendixYInput
        {
            Test = charge is null ? ChargeAndMaintenanceTest.None("test-log", noLog)
                : ChargeAndMaintenanceTest.From(ChargeAndMaintenanceLog.From(charge, fullAtS)),
            NoBattery = waiting is null
                ? null
                : NoBatteryTest.From(
                    waiting.Result.Envelope, ChargeAndMaintenanceLog.StartS(waiting), ChargeAndMaintenanceLog.EndS(waiting), (from, to) =>
                        waiting.Energies.EnergyWh(from, to, part: "appendix-y-no-battery")),
            Device = device,
            Coupling = method.Coupling,
            Placement = method.Kind == MethodKind.Wired ? PadPlacement.Wired : method.Placement ?? PadPlacement.OpenPlacement,
            ActiveChargeEnergy = sessions.Count > 0
                ? Figure.Of(sessions[0].Energy)
                : Figure.None(charge is null ? noLog : "the log holds no charge"),
        };
    }
}
