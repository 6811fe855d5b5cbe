namespace ChargeAudit.Logs;

/// <summary>Where a meter sits, in the order in which energy flows.</summary>
public enum MeasuringPoint
{
    /// <summary>AC into the adapter, or into a charger with a built-in mains supply.</summary>
    Wall,

    /// <summary>DC out of the adapter: into the cable or the pad.</summary>
    Usb,

    /// <summary>DC into the device: at its socket by cable, at its receiver's output by pad.</summary>
    Device,

    /// <summary>DC into the battery.</summary>
    Battery,
}
