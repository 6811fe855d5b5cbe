namespace ChargeAudit.Logs;

/// <summary>Bounds that several steps of the reading share.</summary>
internal static class LogLimits
{
    /// <summary>A row with more fields than this is not a row of a log.</summary>
    public const int MostColumns = 4096;

    /// <summary>Most that is taken from a pipe in a format that is read from its end. [byte]</summary>
    public const long MostPipedBytes = 1L << 30;

    /// <summary>A reader of another format that gives nothing for so long is given up, and the file refused; large files get more
    /// time.</summary>
    public static readonly TimeSpan LongestSilence = TimeSpan.FromSeconds(30);

    /// <summary>Slowest that a reader of another format may be. [byte/s]</summary>
    public const double SlowestBytesPerS = 1e6;

    /// <summary>
    /// Length of the pieces in which a large plain log is parsed: large enough to keep a core busy for half a millisecond, small enough
    /// that it stays in the core's own cache. [B]
    /// </summary>
    public const int PieceBytes = 1 << 18;
}
