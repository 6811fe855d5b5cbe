namespace ChargeAudit.Logs;

/// <summary>Bounds that several steps of the reading share.</summary>
internal static class LogLimits
{
    /// <summary>A row with more fields than this is no row of a log.</summary>
    public const int MostColumns = 4096;

    /// <summary>
    /// Length of the pieces in which a large plain log is parsed: large enough to keep a core busy for half a millisecond, small enough that it stays in the core's
    /// own cache. [B]
    /// </summary>
    public const int PieceBytes = 1 << 18;
}
