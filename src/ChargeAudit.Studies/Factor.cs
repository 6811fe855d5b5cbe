using System.Text.Json.Serialization;

namespace ChargeAudit.Studies;

/// <summary>Something that is set for a run and may change what it takes. Words in a study are the members' names:
/// <c>offset-x</c>.</summary>
public enum Factor
{
    /// <summary>Sideways distance of the device from the middle of the pad, along the first direction. [mm]</summary>
    [JsonStringEnumMemberName("offset-x")] OffsetX,

    /// <summary>The same along the second direction, at a right angle to the first. [mm]</summary>
    [JsonStringEnumMemberName("offset-y")] OffsetY,

    /// <summary>Distance between pad and device. [mm]</summary>
    [JsonStringEnumMemberName("gap")] Gap,

    /// <summary>Turn of the device on the pad. [°]</summary>
    [JsonStringEnumMemberName("rotation")] Rotation,

    /// <summary>Power that charger and device agreed on. [W]</summary>
    [JsonStringEnumMemberName("power-level")] PowerLevel,

    /// <summary>Temperature of the room. [°C]</summary>
    [JsonStringEnumMemberName("temperature")] Temperature,

    /// <summary>The device's case, by name.</summary>
    [JsonStringEnumMemberName("case")] Case,
}
