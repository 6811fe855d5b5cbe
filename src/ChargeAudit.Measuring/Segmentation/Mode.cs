using System.Text.Json.Serialization;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>What the load is doing.</summary>
public enum Mode
{
    /// <summary>Not drawing: the charger is not powered.</summary>
    [JsonStringEnumMemberName("off")] Off,

    /// <summary>Charger powered, device absent (the no-battery mode of the US procedure).</summary>
    [JsonStringEnumMemberName("no-load")] NoLoad,

    /// <summary>Charging the battery (active mode).</summary>
    [JsonStringEnumMemberName("charge")] Charge,

    /// <summary>Battery full, device still connected.</summary>
    [JsonStringEnumMemberName("maintenance")] Maintenance,
}
