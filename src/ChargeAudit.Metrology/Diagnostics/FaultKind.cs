using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>What can be wrong with a log without making it useless. The kebab-case form of each name is its stable id.</summary>
public enum FaultKind
{
    /// <summary>An interval much longer than the usual one.</summary>
    [JsonStringEnumMemberName("gap")] Gap,

    /// <summary>A row whose time lies before that of the row above it.</summary>
    [JsonStringEnumMemberName("time-backwards")] TimeBackwards,

    /// <summary>Several rows with one and the same time stamp.</summary>
    [JsonStringEnumMemberName("time-duplicate")] TimeDuplicate,

    /// <summary>The clock was set: from here on all times are shifted.</summary>
    [JsonStringEnumMemberName("clock-step")] ClockStep,

    /// <summary>A counter fell back to zero or rolled over.</summary>
    [JsonStringEnumMemberName("counter-reset")] CounterReset,

    /// <summary>A counter's reading that stands off the track to which the counter came back.</summary>
    [JsonStringEnumMemberName("counter-reading")] CounterReading,

    /// <summary>A field that should hold a number or a time and does not.</summary>
    [JsonStringEnumMemberName("unreadable-field")] UnreadableField,

    /// <summary>A row with fewer fields than the header.</summary>
    [JsonStringEnumMemberName("short-row")] ShortRow,

    /// <summary>A row with more fields than the header.</summary>
    [JsonStringEnumMemberName("long-row")] LongRow,

    /// <summary>Readings that stay at the greatest value: the meter's range was exceeded.</summary>
    [JsonStringEnumMemberName("clipped")] Clipped,

    /// <summary>Readings of negative power where power only flows one way.</summary>
    [JsonStringEnumMemberName("reversed")] Reversed,

    /// <summary>A value that the quantity cannot have at this measuring point.</summary>
    [JsonStringEnumMemberName("implausible")] Implausible,

    /// <summary>Readings that stay the same among readings that scatter: the sensor was stuck.</summary>
    [JsonStringEnumMemberName("stuck")] Stuck,

    /// <summary>Readings of zero in the middle of a charge that are not a pause.</summary>
    [JsonStringEnumMemberName("zero-readings")] ZeroReadings,

    /// <summary>The unit of power changes from one row to the next.</summary>
    [JsonStringEnumMemberName("changed-unit")] ChangedUnit,

    /// <summary>Rows that were written before are written again.</summary>
    [JsonStringEnumMemberName("repeated-rows")] RepeatedRows,

    /// <summary>The meter's own counter disagrees with the integral of its readings.</summary>
    [JsonStringEnumMemberName("counter-mismatch")] CounterMismatch,

    /// <summary>Bytes that are not text in the log's encoding.</summary>
    [JsonStringEnumMemberName("encoding")] Encoding,
}
