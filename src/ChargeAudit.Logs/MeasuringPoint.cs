using System.Text.Json.Serialization;

namespace ChargeAudit.Logs;

/// <summary>Where a meter sits, in the order in which energy flows.</summary>
public enum MeasuringPoint
{
    /// <summary>AC into the adapter, or into a charger with a built-in mains supply.</summary>
    [JsonStringEnumMemberName("wall")] Wall,

    /// <summary>DC out of the adapter: into the cable or the pad.</summary>
    [JsonStringEnumMemberName("usb")] Usb,

    /// <summary>DC into the device: at its socket by cable, at its receiver's output by pad.</summary>
    [JsonStringEnumMemberName("device")] Device,

    /// <summary>DC into the battery.</summary>
    [JsonStringEnumMemberName("battery")] Battery,
}
