namespace ChargeAudit.Measuring.Summaries;

/// <summary>What a summary's file says of itself.</summary>
public sealed record SummaryAbout
{
    /// <summary>Version of the form; a file of another is not used.</summary>
    public const int CurrentSchema = 3;

    /// <summary>Version of the file's form.</summary>
    public int Schema { get; init; } = CurrentSchema;

    /// <summary>Version of the program that wrote it.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>The log's files.</summary>
    public required IReadOnlyList<SummarizedFile> Files { get; init; }

    /// <summary>What was stated about the log, by the setting's name; what is absent was not stated.</summary>
    public required IReadOnlyDictionary<string, string> Said { get; init; }
}

/// <summary>A file that was summarized.</summary>
/// <param name="Name">Its name as it was given.</param>
/// <param name="Bytes">Its length. [byte]</param>
/// <param name="Written">When it was last changed.</param>
/// <param name="Sha256">SHA-256 of its bytes, or of each of its parts with a comma between them, in lower-case hexadecimal.</param>
public sealed record SummarizedFile(string Name, long Bytes, DateTimeOffset Written, string Sha256)
{
    /// <summary>A hash of where it stood; empty where none was made.</summary>
    public string Place { get; init; } = "";

    /// <summary>Where its parts end; none where it was read whole. The hash is then the list of theirs. [byte]</summary>
    public IReadOnlyList<long> Ends { get; init; } = [];
}
