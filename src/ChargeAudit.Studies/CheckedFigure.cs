namespace ChargeAudit.Studies;

/// <summary>A figure that a check compares with its baseline.</summary>
public enum CheckedFigure
{
    /// <summary>Energy over a charge. [Wh]</summary>
    EnergyPerCharge,

    /// <summary>Power while waiting with no device. [W]</summary>
    NoLoadPower,

    /// <summary>Power while full and still connected. [W]</summary>
    MaintenancePower,

    /// <summary>Length of a charge. [s]</summary>
    ChargeDuration,

    /// <summary>Greatest reading of a run. [W]</summary>
    PeakPower,
}
