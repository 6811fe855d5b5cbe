namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>What a stated meter accuracy is about. Coherent units stand in brackets.</summary>
public enum MeterQuantity
{
    /// <summary>Voltage. [V]</summary>
    Voltage,

    /// <summary>Current. [A]</summary>
    Current,

    /// <summary>Real power. [W]</summary>
    Power,

    /// <summary>Apparent power. [VA]</summary>
    ApparentPower,

    /// <summary>Power factor. [1]</summary>
    PowerFactor,

    /// <summary>Energy counter. [J]</summary>
    Energy,

    /// <summary>Charge counter. [C]</summary>
    Charge,

    /// <summary>The clock: length of a duration. [s]</summary>
    Time,
}
