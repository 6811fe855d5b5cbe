using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;

namespace ChargeAudit.Reports.Charts;

/// <summary>The runs of one method that were measured at one point, the one in the middle picked out.</summary>
/// <param name="Index">Position of the method; decides its colour.</param>
/// <param name="Method">Name of the method.</param>
/// <param name="Middle">The run whose energy lies in the middle.</param>
/// <param name="Others">The other runs that count.</param>
internal sealed record RunsAtPoint(int Index, string Method, (string Id, RunPointResult Seen) Middle, IReadOnlyList<RunPointResult> Others)
{
    // More thin lines than this hide one another, and each needs the whole power curve of its log.
    private const int MostLines = 40;

    /// <summary>The other runs that are drawn: all of them, or as many as can be told apart, taken evenly over their energies.</summary>
    public IReadOnlyList<RunPointResult> Lines { get; } = Others.Count <= MostLines
        ? Others
        : [.. Enumerable.Range(0, MostLines).Select(i => Others[(int)((long)i * (Others.Count - 1) / (MostLines - 1))])];

    /// <summary>What is said about the thin lines of a chart.</summary>
    /// <param name="methods">The methods that it shows.</param>
    public static string LinesNote(IReadOnlyList<RunsAtPoint> methods) => methods.Any(m => m.Lines.Count < m.Others.Count)
        ? $"Thin lines: other runs, at most {MostLines} for each method, taken evenly over their energies."
        : "Thin lines: the other runs.";

    /// <summary>One entry for each method with a run that counts there.</summary>
    public static IReadOnlyList<RunsAtPoint> Of(AuditResult result, MeasuringPoint point)
    {
        var all = new List<RunsAtPoint>();
        for (int i = 0; i < result.Methods.Count; i++)
        {
            var runs = result.Methods[i].Runs
                .Where(r => r.Excluded is null && r.Points.ContainsKey(point))
                .Select(r => (r.Id, Seen: r.Points[point]))
                .OrderBy(r => r.Seen.Energy.Value)
                .ToList();
            if (runs.Count > 0)
            {
                int middle = (runs.Count - 1) / 2;
                all.Add(new RunsAtPoint(i, result.Methods[i].Name, runs[middle],
                    [.. runs.Where((_, j) => j != middle).Select(r => r.Seen)]));
            }
        }

        return all;
    }

    /// <summary>The points where at least one run that counts was measured, in the order in which energy flows.</summary>
    public static IReadOnlyList<MeasuringPoint> Measured(AuditResult result) =>
        [.. Enum.GetValues<MeasuringPoint>().Where(p => Of(result, p).Count > 0)];
}
