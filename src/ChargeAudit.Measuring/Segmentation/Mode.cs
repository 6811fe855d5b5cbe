namespace ChargeAudit.Measuring.Segmentation;

/// <summary>What the load is doing.</summary>
public enum Mode
{
    /// <summary>Not drawing: the charger is not powered.</summary>
    Off,

    /// <summary>Charger powered, device absent (the no-battery mode of the US procedure).</summary>
    NoLoad,

    /// <summary>Charging the battery (active mode).</summary>
    Charge,

    /// <summary>Battery full, device still connected.</summary>
    Maintenance,
}
