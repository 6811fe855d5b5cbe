using ChargeAudit.Checking.Looks;


namespace ChargeAudit.Checking;

/// <summary>Earlier looks at a candidate in a history: checks whose logs are a part of its own.</summary>
public static class EarlierLooks
{
    /// <summary>What the history says about the looks at the check that it ends with.</summary>
    /// <param name="history">Checks in order of time, the last one the check just made.</param>
    /// <param name="result">That check.</param>
    public static CheckResult Told(IReadOnlyList<HistoryEntry> history, CheckResult result)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(result);
        var earlier = Before(history);
        var own = history[^1];
        if (result.Looks is { } planned)
        {
            var stray = earlier.Where(e => e.Plan != own.Plan || !planned.Runs.Contains(RunsOf(e))).ToList();
            return stray.Count == 0 ? result : WithLooks(result, planned with
            {
                Sentence =
                    $"{planned.Sentence} The history holds {(stray.Count == 1 ? "a look" : "looks")} at "
                    + $"{LookReport.Words([.. stray.Select(RunsOf)])} runs that this plan does not have, so the risk is greater than "
                    + "stated.",
            });
        }

        int baselineRuns = result.Figures.Max(f => f.BaselineRuns);
        var report = LookReport.Unplanned([.. earlier.Select(RunsOf), RunsOf(own)], baselineRuns, result.Alpha);
        return report.Number == 1 && result.Verdict != CheckVerdict.Inconclusive
            ? result with { Looks = report }
            : WithLooks(result, report);
    }

    /// <summary>The checks without those whose logs a later one holds all of: one candidate is one measurement, however often it was looked
    /// at.</summary>
    /// <param name="checks">Checks in order of time.</param>
    internal static IEnumerable<HistoryEntry> Superseded(IReadOnlyList<HistoryEntry> checks)
    {
        for (int i = 0; i < checks.Count; i++)
        {
            if (checks[i].Logs is { Count: > 0 } logs && checks.Skip(i + 1).Any(later => IsPart(logs, later.Logs)))
            {
                yield return checks[i];
            }
        }
    }

    private static List<HistoryEntry> Before(IReadOnlyList<HistoryEntry> history)
    {
        var own = history[^1];
        return own.Logs is null ? [] :
        [
            .. history.Take(history.Count - 1).Where(e => e.Logs is { Count: > 0 } logs && IsPart(logs, own.Logs))
                .GroupBy(e => e.CandidateSha256, StringComparer.Ordinal).Select(g => g.First()),
        ];
    }

    private static bool IsPart(IReadOnlyList<string> part, IReadOnlyList<string>? whole) =>
        whole is not null && part.Count < whole.Count && part.ToHashSet(StringComparer.Ordinal).IsProperSubsetOf(whole);

    private static int RunsOf(HistoryEntry entry) => entry.Figures.Count == 0 ? 0 : entry.Figures.Max(f => f.CandidateRuns);

    private static CheckResult WithLooks(CheckResult result, LookReport report) => result with
    {
        Looks = report,
        Told = new(() => [.. result.Reasons.Where(r => r != result.Looks?.Sentence), report.Sentence]),
    };
}
