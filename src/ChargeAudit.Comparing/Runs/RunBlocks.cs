namespace ChargeAudit.Comparing.Runs;

/// <summary>The blocks (days, set-ups, operators, places) of runs.</summary>
internal static class RunBlocks
{
    /// <summary>The block of each run; null where it was not stated.</summary>
    public static IReadOnlyList<string>? Of(IEnumerable<RunResult> runs)
    {
        var blocks = runs.Select(r => r.Block).ToList();
        return blocks.Count == 0 || blocks.Contains(null) ? null : [.. blocks.OfType<string>()];
    }
}
