using System.Text.Json.Serialization;

namespace ChargeAudit.Reports.Files;

/// <summary>How a table is written as a file. A member's name is the ending of the file.</summary>
public enum TableFormat
{
    /// <summary>Comma-separated text (RFC 4180).</summary>
    [JsonStringEnumMemberName("csv")] Csv,

    /// <summary>Apache Parquet.</summary>
    [JsonStringEnumMemberName("parquet")] Parquet,

    /// <summary>Apache Arrow's file format (IPC), which is also Feather version 2.</summary>
    [JsonStringEnumMemberName("arrow")] Arrow,
}
