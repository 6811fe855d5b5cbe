using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology;

/// <summary>What a column of a log holds, and what a stated accuracy is about. Coherent units are in brackets.</summary>
public enum LogQuantity
{
    /// <summary>Nothing that is used.</summary>
    [JsonStringEnumMemberName("ignored")] Ignored,

    /// <summary>Date and time together, seconds since an epoch, or elapsed time.</summary>
    [JsonStringEnumMemberName("time")] Time,

    /// <summary>The date alone; the clock time is in another column.</summary>
    [JsonStringEnumMemberName("date")] Date,

    /// <summary>The clock time alone; the date is in another column.</summary>
    [JsonStringEnumMemberName("clock")] Clock,

    /// <summary>Voltage (effective value on AC). [V]</summary>
    [JsonStringEnumMemberName("voltage")] Voltage,

    /// <summary>Current (effective value on AC). [A]</summary>
    [JsonStringEnumMemberName("current")] Current,

    /// <summary>Real power. [W]</summary>
    [JsonStringEnumMemberName("power")] Power,

    /// <summary>Apparent power. [VA]</summary>
    [JsonStringEnumMemberName("apparent-power")] ApparentPower,

    /// <summary>Power factor, −1 to 1.</summary>
    [JsonStringEnumMemberName("power-factor")] PowerFactor,

    /// <summary>Energy counter. [J]</summary>
    [JsonStringEnumMemberName("energy")] Energy,

    /// <summary>Charge counter. [C]</summary>
    [JsonStringEnumMemberName("charge")] Charge,

    /// <summary>Temperature. [°C]</summary>
    [JsonStringEnumMemberName("temperature")] Temperature,

    /// <summary>Frequency. [Hz]</summary>
    [JsonStringEnumMemberName("frequency")] Frequency,
}
