using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Summaries;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Which recording a file holds: that of the log itself, or of the log that a summary was made of.</summary>
/// <param name="Files">The log's files.</param>
/// <param name="Said">What was stated about it when it was summarized; null for the log itself.</param>
internal sealed record LogOrigin(IReadOnlyList<SummarizedFile> Files, IReadOnlyDictionary<string, string>? Said)
{
    /// <summary>The origin of what was measured.</summary>
    /// <param name="log">The measurement.</param>
    /// <param name="paths">Where its files are, one a hash.</param>
    public static LogOrigin Of(LogMeasurement log, IReadOnlyList<string> paths) => log.From is { } summary
        ? new LogOrigin(summary.Files, summary.Said)
        : new LogOrigin([.. log.Files.Select((name, i) => File(name, paths[i], log.Sha256[i]))], null);

    /// <summary>Whether both hold a file of one recording, be it as it was at another time.</summary>
    public bool Shares(LogOrigin other) => Files.Any(a => other.Files.Any(b => AreOne(a, b)));

    /// <summary>Whether both hold the same recording as it was at the same time.</summary>
    public bool IsStateOf(LogOrigin other) =>
        Files.Count == other.Files.Count && Files.Zip(other.Files).All(f => AreAlike(f.First, f.Second));

    // Copies of a log under other names stay two logs, as they are without summaries; a doubt tells of their bytes.
    private static bool AreOne(SummarizedFile a, SummarizedFile b) => LastName(a) == LastName(b) && (AreAlike(a, b)
        || (a.Place.Length > 0 && a.Place == b.Place));

    // A log that was read in parts has the hashes of these, which those of the whole do not show.
    private static bool AreAlike(SummarizedFile a, SummarizedFile b) => a.Sha256 == b.Sha256
        || ((a.Ends.Count > 0 || b.Ends.Count > 0) && a.Bytes == b.Bytes && a.Written == b.Written);

    private static SummarizedFile File(string name, string path, string hash)
    {
        var file = new FileInfo(path);
        return new SummarizedFile(name, file.Exists ? file.Length : 0, file.Exists ? file.LastWriteTimeUtc : default, hash)
        {
            Place = SummaryFolder.PlaceOf(path),
        };
    }

    private static string LastName(SummarizedFile file) => file.Name[(file.Name.LastIndexOfAny(['/', '\\']) + 1)..];
}
