using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>What a stated meter accuracy is about. Coherent units stand in brackets.</summary>
public enum MeterQuantity
{
    /// <summary>Voltage. [V]</summary>
    [JsonStringEnumMemberName("voltage")] Voltage,

    /// <summary>Current. [A]</summary>
    [JsonStringEnumMemberName("current")] Current,

    /// <summary>Real power. [W]</summary>
    [JsonStringEnumMemberName("power")] Power,

    /// <summary>Apparent power. [VA]</summary>
    [JsonStringEnumMemberName("apparent-power")] ApparentPower,

    /// <summary>Power factor. [1]</summary>
    [JsonStringEnumMemberName("power-factor")] PowerFactor,

    /// <summary>Energy counter. [J]</summary>
    [JsonStringEnumMemberName("energy")] Energy,

    /// <summary>Charge counter. [C]</summary>
    [JsonStringEnumMemberName("charge")] Charge,

    /// <summary>The clock: length of a duration. [s]</summary>
    [JsonStringEnumMemberName("time")] Time,
}
