namespace ChargeAudit.Cli.Hosting;

/// <summary>What takes all cores by itself.</summary>
internal static class Cores
{
    private const long LongLogBytes = 8 << 20;

    /// <summary>Whether reading a log does: it is long, or comes from standard input and may become so.</summary>
    public static bool AreTakenBy(string log) => log == "-" || (File.Exists(log) && new FileInfo(log).Length > LongLogBytes);
}
