using System.Text.Json.Serialization;

namespace ChargeAudit.Comparing.Results;

/// <summary>A figure that a calibration corrects.</summary>
public enum CorrectedFigure
{
    /// <summary>Energy per charge.</summary>
    [JsonStringEnumMemberName("energy-per-charge")] EnergyPerCharge,

    /// <summary>Power while waiting with no device.</summary>
    [JsonStringEnumMemberName("no-load-power")] NoLoadPower,

    /// <summary>Power while full and still connected.</summary>
    [JsonStringEnumMemberName("maintenance-power")] MaintenancePower,
}
