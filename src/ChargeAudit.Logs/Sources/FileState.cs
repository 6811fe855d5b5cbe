namespace ChargeAudit.Logs.Sources;

/// <summary>What tells that a file was written to: a log that still grows would give another result a second later, and its hash would
/// belong to neither.</summary>
internal readonly record struct FileState(long Bytes, DateTime Written)
{
    /// <summary>The state now; the same at all times for a log that does not come from a file.</summary>
    public static FileState Of(LogSource source) =>
        source.Spool is null && new FileInfo(source.Path) is { Exists: true } file ? new(file.Length, file.LastWriteTimeUtc) : default;
}
