using ChargeAudit.Analysis.Results;
using ChargeAudit.Analysis.Studies;

namespace ChargeAudit.Analysis.Procedures;

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
}
