namespace ChargeAudit.Measuring.Integration;

/// <summary>Moves a part's summary down by the lines of the parts before it, which had not been counted when it was made.</summary>
internal static class LaterLines
{
    /// <summary>The same state with all line numbers higher.</summary>
    /// <param name="state">The state of a part.</param>
    /// <param name="lines">Lines of the parts before it.</param>
    public static SummaryState Shifted(this SummaryState state, long lines) => state with
    {
        First = Shifted(state.First, lines),
        Last = Shifted(state.Last, lines),
        GapFaults = state.GapFaults.Shifted(lines),
        Reversed = state.Reversed.Shifted(lines),
        Implausible = state.Implausible.Shifted(lines),
        Marked = [.. state.Marked.Select(m => m.Shifted(lines))],
        Gaps = state.Gaps.With([.. state.Gaps.Longest.Select(g => g with { Line = g.Line + lines })]),
        BetweenRows = state.BetweenRows is not { } between ? null : between with
        {
            PendingFrom = between.PendingFrom is { } from ? Shifted(from, lines) : null,
            PendingTo = between.PendingTo is { } to ? Shifted(to, lines) : null,
        },
        Counter = state.Counter is not { } counter ? null : counter with
        {
            Head = Shifted(counter.Head, lines),
            Waiting = Shifted(counter.Waiting, lines),
            Fold = counter.Fold with
            {
                First = Shifted(counter.Fold.First, lines),
                Last = Shifted(counter.Fold.Last, lines),
                Resets = counter.Fold.Resets.Shifted(lines),
                Falls = counter.Fold.Falls.Shifted(lines),
                Bad = counter.Fold.Bad.Shifted(lines),
                Gaps = [.. counter.Fold.Gaps.Select(g => g with { Line = g.Line + lines })],
                Points = [.. counter.Fold.Points.Select(p => p with { Line = p.Line + lines })],
            },
        },
    };

    private static PowerPoint Shifted(PowerPoint point, long lines) => point with { Line = point.Line + lines };

    private static CounterReading Shifted(CounterReading reading, long lines) => reading with { Line = reading.Line + lines };

    private static IReadOnlyList<CounterReading> Shifted(IReadOnlyList<CounterReading> readings, long lines) =>
        [.. readings.Select(r => Shifted(r, lines))];
}
