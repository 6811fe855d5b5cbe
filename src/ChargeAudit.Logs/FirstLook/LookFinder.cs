namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Tells how often a logger that writes on change looks for a change. Many do so by a timer: then all rows lie a whole number of its
/// intervals apart, and where power falls fast they follow one another at that interval itself.
/// </summary>
internal static class LookFinder
{
    // Fewer rows at the shortest interval may be due to chance.
    private const int FewestAtOneLook = 4;
    private const double LeastShare = 0.05;

    // Times may be stamped late by this share of the interval; of many intervals by this share of the time.
    private const double Late = 0.05;
    private const double LateClock = 0.0005;
    private const double MostStrays = 0.1;

    /// <summary>The interval; zero where the rows show none, whether the logger writes at once or only its signs of life were
    /// written. [s]</summary>
    /// <param name="runs">Runs of rows that follow one another.</param>
    public static double LookS(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] lengths = [.. runs.SelectMany(r => r.TimesS.Zip(r.TimesS.Skip(1), (a, b) => b - a)).Where(s => s > 0)];
        Array.Sort(lengths);
        if (lengths.Length == 0)
        {
            return 0;
        }

        double[] shortest = [.. lengths.TakeWhile(s => s <= (1 + Late) * lengths[0])];
        double look = shortest[shortest.Length / 2];
        bool often = shortest.Length >= Math.Max(FewestAtOneLook, LeastShare * lengths.Length);
        int strays = lengths.Count(s => Math.Abs(s - (look * Math.Round(s / look))) > (Late * look) + (LateClock * s));
        return often && lengths[^1] > 2 * look && strays <= MostStrays * lengths.Length ? look : 0;
    }
}
