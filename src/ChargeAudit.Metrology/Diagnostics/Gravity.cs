using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>How much a doubt matters, the gravest first. docs/results.md lists the names that files use.</summary>
public enum Gravity
{
    /// <summary>A figure may be wrong, or its interval too narrow.</summary>
    [JsonStringEnumMemberName("wrong")]
    Wrong,

    /// <summary>An interval is wider for it, or a figure is missing.</summary>
    [JsonStringEnumMemberName("wide")]
    Wide,

    /// <summary>Two methods may not be comparable.</summary>
    [JsonStringEnumMemberName("unfair")]
    Unfair,

    /// <summary>Something was assumed, as it was not stated.</summary>
    [JsonStringEnumMemberName("assumed")]
    Assumed,

    /// <summary>How logs were read and cleaned, and which were left out.</summary>
    [JsonStringEnumMemberName("reading")]
    Reading,
}
