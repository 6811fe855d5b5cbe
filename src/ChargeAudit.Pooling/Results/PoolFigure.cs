using System.Text.Json.Serialization;

namespace ChargeAudit.Pooling.Results;

/// <summary>What is pooled over audits.</summary>
public enum PoolFigure
{
    /// <summary>Energy per charge divided by that of the audit's reference method; pooled as its logarithm. [1]</summary>
    [JsonStringEnumMemberName("overhead-ratio")] OverheadRatio,

    /// <summary>Energy per charge; pooled as its logarithm. [Wh]</summary>
    [JsonStringEnumMemberName("energy-per-charge")] EnergyPerCharge,

    /// <summary>Power with no device. [W]</summary>
    [JsonStringEnumMemberName("no-load-power")] NoLoadPower,

    /// <summary>Power while full and still connected. [W]</summary>
    [JsonStringEnumMemberName("maintenance-power")] MaintenancePower,

    /// <summary>Energy of a year under the one stated use. [kWh]</summary>
    [JsonStringEnumMemberName("year-energy")] YearEnergy,

    /// <summary>The same less that of the reference method. [kWh]</summary>
    [JsonStringEnumMemberName("extra-year-energy")] ExtraYearEnergy,

    /// <summary>Cost of a year less that of the reference method, under the one stated tariff.</summary>
    [JsonStringEnumMemberName("extra-year-cost")] ExtraYearCost,
}
