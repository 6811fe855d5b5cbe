namespace ChargeAudit.Logs.Sources;

/// <summary>What takes all cores by itself: a long log, which is hashed and parsed on each of them.</summary>
internal static class AllCores
{
    private const long LongLogBytes = 8 << 20;

    /// <summary>Whether reading a log of so many bytes does.</summary>
    public static bool AreTakenBy(long bytes) => bytes > LongLogBytes;

    /// <summary>Whether reading a log does: it is long, or comes from standard input and may become so.</summary>
    public static bool AreTakenBy(string log) => log == "-" || (File.Exists(log) && AreTakenBy(new FileInfo(log).Length));
}
