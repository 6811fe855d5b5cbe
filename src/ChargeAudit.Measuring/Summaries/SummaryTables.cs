using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>Which rows of a summary's file belong to which part of its state.</summary>
internal static class SummaryTables
{
    private const string Power = "power";
    private const string Unseen = "unseen";
    private const string Counter = "counter";

    /// <summary>The rows that a state fills.</summary>
    public static SummaryRows Rows(SummaryState state)
    {
        var (cells, unseen, points) = Counts(state);
        var rows = new SummaryRows(cells + unseen + points);
        rows.Put(0, Power, state.Envelope);
        if (state.BetweenRows is { } between)
        {
            rows.Put(cells, Unseen, between.Unseen);
        }

        if (state.Counter is { } counter)
        {
            rows.Put(cells + unseen, Counter, counter.Fold.Points);
        }

        return rows;
    }

    /// <summary>The state with its rows in it.</summary>
    /// <exception cref="InvalidDataException">There are more rows or fewer.</exception>
    public static SummaryState In(SummaryState state, SummaryRows rows)
    {
        var (cells, unseen, points) = Counts(state);
        if (rows.Kinds.Length != (long)cells + unseen + points)
        {
            throw new InvalidDataException("its rows are not as many as it says");
        }

        return state with
        {
            Envelope = state.Envelope with { Cells = rows.Cells(0, cells, Power) },
            BetweenRows = state.BetweenRows is { } between
                ? between with { Unseen = between.Unseen with { Cells = rows.Cells(cells, unseen, Unseen) } }
                : null,
            Counter = state.Counter is { } counter
                ? counter with { Fold = counter.Fold with { Points = rows.Points(cells + unseen, points, Counter) } }
                : null,
        };
    }

    private static (int Cells, int Unseen, int Points) Counts(SummaryState state) =>
        (state.Envelope.Count, state.BetweenRows?.Unseen.Count ?? 0, state.Counter?.Fold.Count ?? 0);
}
