using System.Text.Json.Serialization;

namespace ChargeAudit.Studies;

/// <summary>A figure that a check compares with its baseline.</summary>
public enum CheckedFigure
{
    /// <summary>Energy over a charge. [Wh]</summary>
    [JsonStringEnumMemberName("energy-per-charge")] EnergyPerCharge,

    /// <summary>Power while waiting with no device. [W]</summary>
    [JsonStringEnumMemberName("no-load-power")] NoLoadPower,

    /// <summary>Power while full and still connected. [W]</summary>
    [JsonStringEnumMemberName("maintenance-power")] MaintenancePower,

    /// <summary>Length of a charge. [s]</summary>
    [JsonStringEnumMemberName("charge-duration")] ChargeDuration,

    /// <summary>Greatest reading of a run. [W]</summary>
    [JsonStringEnumMemberName("peak-power")] PeakPower,

    /// <summary>Energy over a charge divided by that of the same audit's wired reference, with the same meter. [1]</summary>
    [JsonStringEnumMemberName("overhead-ratio")] OverheadRatio,
}
