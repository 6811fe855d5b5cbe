using System.Text.Json.Serialization;

namespace ChargeAudit.Measuring.Integration;

/// <summary>Which columns give real power.</summary>
public enum PowerSource
{
    /// <summary>A column of real power.</summary>
    [JsonStringEnumMemberName("power-column")] PowerColumn,

    /// <summary>Voltage times current, on direct current only.</summary>
    [JsonStringEnumMemberName("voltage-times-current")] DirectCurrentProduct,

    /// <summary>Voltage times current times power factor.</summary>
    [JsonStringEnumMemberName("voltage-times-current-times-power-factor")] ProductWithPowerFactor,

    /// <summary>Apparent power times power factor.</summary>
    [JsonStringEnumMemberName("apparent-power-times-power-factor")] ApparentWithPowerFactor,

    /// <summary>Differences of an energy counter; no power between its steps.</summary>
    [JsonStringEnumMemberName("energy-counter")] EnergyCounter,
}
