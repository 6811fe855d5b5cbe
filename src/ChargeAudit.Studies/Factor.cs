namespace ChargeAudit.Studies;

/// <summary>Something that is set for a run and may change what it takes. Words in a study are the members' names: <c>offset-x</c>.</summary>
public enum Factor
{
    /// <summary>Sideways distance of the device from the middle of the pad, along the first direction. [mm]</summary>
    OffsetX,

    /// <summary>The same along the second direction, at a right angle to the first. [mm]</summary>
    OffsetY,

    /// <summary>Distance between pad and device. [mm]</summary>
    Gap,

    /// <summary>Turn of the device on the pad. [°]</summary>
    Rotation,

    /// <summary>Power that charger and device agreed on. [W]</summary>
    PowerLevel,

    /// <summary>Temperature of the room. [°C]</summary>
    Temperature,

    /// <summary>The device's case, by name.</summary>
    Case,
}
