using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Standby;

/// <summary>How a stand-by power was obtained.</summary>
public enum StandbyMethod
{
    /// <summary>Readings after the first third. <i>Source:</i> IEC 62301:2011, 5.3.2 (clause from memory).</summary>
    Sampling,

    /// <summary>Readings over whole cycles in two comparison periods. <i>Source:</i> IEC 62301:2011, 5.3.2 (clause from memory).</summary>
    SamplingOverCycles,

    /// <summary>Two adjacent periods of an energy counter. <i>Source:</i> IEC 62301:2011, 5.3.3.3 (clause from memory).</summary>
    AccumulatedEnergy,

    /// <summary>Mean of the last four hours of maintenance. <i>Source:</i> 10 CFR 430 Subpart B Appendix Y, 3.3.9.</summary>
    LastFourHours,
}

/// <summary>Whether the method's own test of stability was passed.</summary>
public enum Stability
{
    /// <summary>It was passed.</summary>
    Stable,

    /// <summary>It was failed.</summary>
    Drifting,

    /// <summary>The log is too short for it.</summary>
    NotShown,
}

/// <summary>Whether the sampling can carry a load that draws in pulses.</summary>
public enum PulseCoverage
{
    /// <summary>The load does not draw in pulses.</summary>
    NoPulses,

    /// <summary>Each pulse has several readings.</summary>
    SeveralReadingsAPulse,

    /// <summary>The meter itself averages between readings, so no pulse is missed.</summary>
    MeterAverages,

    /// <summary>Pulses are as short as the interval between instantaneous readings: they may be missed or counted too often.</summary>
    NotCarried,
}

/// <summary>A stand-by power with what it rests on. Immutable.</summary>
public sealed record StandbyFinding
{
    /// <summary>How it was obtained.</summary>
    public required StandbyMethod Method { get; init; }

    /// <summary>The power with its scatter as uncertainty; the meter's own errors come on top. [W]</summary>
    public required Measured Power { get; init; }

    /// <summary>Whether it was stable by the method's test.</summary>
    public required Stability Stability { get; init; }

    /// <summary>Drift found. [W/h]</summary>
    public required double DriftWPerH { get; init; }

    /// <summary>Drift allowed. [W/h]</summary>
    public required double DriftLimitWPerH { get; init; }

    /// <summary>Start of the time averaged, from the first reading. [s]</summary>
    public required double FromS { get; init; }

    /// <summary>End of the time averaged. [s]</summary>
    public required double ToS { get; init; }

    /// <summary>Period of a cyclic load; null where none was found. [s]</summary>
    public double? PeriodS { get; init; }

    /// <summary>Whether pulses are carried.</summary>
    public PulseCoverage Pulses { get; init; }

    /// <summary>What to say with the figure, as sentences.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Name of the method for people; it says 'similar to' where the standard's conditions are not met.</summary>
    public required string Wording { get; init; }
}
