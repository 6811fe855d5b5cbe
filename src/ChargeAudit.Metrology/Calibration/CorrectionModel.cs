using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Calibration;

/// <summary>How corrections between the points of a calibration are obtained.</summary>
public enum CorrectionModel
{
    /// <summary>One correction for every reading: the mean of the points'.</summary>
    [JsonStringEnumMemberName("offset")] Offset,

    /// <summary>A share of the reading: a line through zero.</summary>
    [JsonStringEnumMemberName("gain")] Gain,

    /// <summary>A straight line.</summary>
    [JsonStringEnumMemberName("gain-and-offset")] GainAndOffset,

    /// <summary>From point to point in straight lines.</summary>
    [JsonStringEnumMemberName("interpolation")] Interpolation,
}

/// <summary>How the errors of a calibration's points are correlated.</summary>
public enum PointErrors
{
    /// <summary>Not stated: both extremes count in full, which covers every mixture of them.</summary>
    [JsonStringEnumMemberName("unsaid")] Unsaid,

    /// <summary>Each point errs by itself.</summary>
    [JsonStringEnumMemberName("independent")] Independent,

    /// <summary>All points err by one and the same reference, together.</summary>
    [JsonStringEnumMemberName("common")] Common,
}
