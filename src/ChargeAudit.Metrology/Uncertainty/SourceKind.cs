using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>What sort of error a source is: it decides what would help.</summary>
public enum SourceKind
{
    /// <summary>Anything else.</summary>
    [JsonStringEnumMemberName("other")] Other,

    /// <summary>A meter's share of the reading.</summary>
    [JsonStringEnumMemberName("meter-gain")] MeterGain,

    /// <summary>A meter's fixed part.</summary>
    [JsonStringEnumMemberName("meter-offset")] MeterOffset,

    /// <summary>A meter's clock.</summary>
    [JsonStringEnumMemberName("clock")] Clock,

    /// <summary>The coarse steps of a meter's readings.</summary>
    [JsonStringEnumMemberName("steps")] Steps,

    /// <summary>Noise of the readings.</summary>
    [JsonStringEnumMemberName("noise")] Noise,

    /// <summary>What happened between two readings.</summary>
    [JsonStringEnumMemberName("sampling")] Sampling,

    /// <summary>A gap in a log.</summary>
    [JsonStringEnumMemberName("gap")] Gap,

    /// <summary>Where a charge starts and ends.</summary>
    [JsonStringEnumMemberName("edge")] Edge,

    /// <summary>A counter's single readings.</summary>
    [JsonStringEnumMemberName("counter-reading")] CounterReading,

    /// <summary>Scatter between runs.</summary>
    [JsonStringEnumMemberName("repeatability")] Repeatability,

    /// <summary>What a meter adds to the line: its resistance, its own supply.</summary>
    [JsonStringEnumMemberName("meter-in-line")] MeterInLine,

    /// <summary>A meter's phase error, which counts at a low power factor.</summary>
    [JsonStringEnumMemberName("meter-phase")] MeterPhase,

    /// <summary>What flows below a meter's starting power.</summary>
    [JsonStringEnumMemberName("starting-power")] StartingPower,

    /// <summary>A meter's calibration: the corrections taken from it, and what has moved since.</summary>
    [JsonStringEnumMemberName("calibration")] Calibration,
}

/// <summary>Whose error a source is.</summary>
public enum SourceOwner
{
    /// <summary>Nobody's in particular: an assumption.</summary>
    None,

    /// <summary>A meter's, by its name: the same in every log it wrote.</summary>
    Meter,

    /// <summary>A log's, by its name.</summary>
    Log,

    /// <summary>A run's, by its id.</summary>
    Run,

    /// <summary>A method's, by its name.</summary>
    Method,

    /// <summary>An adapter's, by its name.</summary>
    Adapter,

    /// <summary>The use of the charger in a year; of one method where it is named.</summary>
    Use,

    /// <summary>The tariff's.</summary>
    Tariff,

    /// <summary>The carbon figures'.</summary>
    Carbon,
}
