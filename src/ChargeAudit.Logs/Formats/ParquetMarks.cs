namespace ChargeAudit.Logs.Formats;

/// <summary>Entries in the metadata of a Parquet file that make it a log's summary and not a log.</summary>
internal static class ParquetMarks
{
    /// <summary>What the summary says of itself.</summary>
    public const string SummaryKey = "chargeaudit.summary";

    /// <summary>All that does not stand in its rows.</summary>
    public const string StateKey = "chargeaudit.summary.state";

    /// <summary>The digest of all that it holds.</summary>
    public const string DigestKey = "chargeaudit.summary.sha256";
}
