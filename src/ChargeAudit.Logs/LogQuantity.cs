namespace ChargeAudit.Logs;

/// <summary>What a column holds.</summary>
public enum LogQuantity
{
    /// <summary>Nothing that is used.</summary>
    Ignored,

    /// <summary>Date and time together, seconds since an epoch, or elapsed time.</summary>
    Time,

    /// <summary>The date alone; the clock time stands in another column.</summary>
    Date,

    /// <summary>The clock time alone; the date stands in another column.</summary>
    Clock,

    /// <summary>Voltage (effective value on AC). [V]</summary>
    Voltage,

    /// <summary>Current (effective value on AC). [A]</summary>
    Current,

    /// <summary>Real power. [W]</summary>
    Power,

    /// <summary>Apparent power. [VA]</summary>
    ApparentPower,

    /// <summary>Power factor, −1 to 1.</summary>
    PowerFactor,

    /// <summary>Energy counter. [J]</summary>
    Energy,

    /// <summary>Charge counter. [C]</summary>
    Charge,

    /// <summary>Temperature. [°C]</summary>
    Temperature,

    /// <summary>Frequency. [Hz]</summary>
    Frequency,
}
