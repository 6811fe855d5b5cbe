using System.Text.Json.Serialization;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>How far a published number can be relied on here.</summary>
public enum SourceMark
{
    /// <summary>Its text or table was read.</summary>
    [JsonStringEnumMemberName("read")] Read,

    /// <summary>Recalled and not read again: check it before relying on it.</summary>
    [JsonStringEnumMemberName("memory")] Memory,
}
