using System.Text.Json.Serialization;

namespace ChargeAudit.Logs;

/// <summary>What a row's reading stands for; it decides how readings become energy.</summary>
public enum SampleKind
{
    /// <summary>The value at the time stamp: integrate by trapezoids.</summary>
    [JsonStringEnumMemberName("instantaneous")] Instantaneous,

    /// <summary>The mean over the interval that ends at the time stamp.</summary>
    [JsonStringEnumMemberName("average-ending")] AverageEnding,

    /// <summary>The mean over the interval that starts at the time stamp.</summary>
    [JsonStringEnumMemberName("average-starting")] AverageStarting,

    /// <summary>Written when the value changes: held until the next row, bounded by the trigger's step.</summary>
    [JsonStringEnumMemberName("on-change")] OnChange,
}
