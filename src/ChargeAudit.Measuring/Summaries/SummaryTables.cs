using System.Runtime.InteropServices;
using System.Text.Json;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>What of a summary's state stands in its table, and where.</summary>
internal static class SummaryTables
{
    private const string Power = "power";
    private const string Unseen = "unseen";
    private const string Counter = "counter";

    /// <summary>The table of cells that a state fills.</summary>
    public static SummaryRows Cells(SummaryState state)
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

    /// <summary>An empty table of the kind that belongs to a document.</summary>
    /// <exception cref="InvalidDataException">There is no such table.</exception>
    public static SummaryTable Empty(SummaryDocument document, int rows) => document.Rows is not { } columns ? new SummaryRows(rows)
        : columns.Count > 0 && rows <= KeptRows.Most ? new RowTable(columns, rows)
        : throw new InvalidDataException("its columns are not those of a summary");

    /// <summary>The state with its cells in it.</summary>
    /// <exception cref="InvalidDataException">There are more or fewer, or rows in their place.</exception>
    public static SummaryState In(SummaryState state, SummaryTable table)
    {
        var (cells, unseen, points) = Counts(state);
        if (table is not SummaryRows rows || rows.Kinds.Length != (long)cells + unseen + points)
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

    /// <summary>The summary of a state and its table.</summary>
    /// <exception cref="InvalidDataException">They do not belong together.</exception>
    public static LogSummary Summary(SummaryState state, SummaryTable table)
    {
        if (table is not RowTable rows)
        {
            return LogSummary.Of(In(state, table));
        }

        var summary = LogSummary.Of(state, rows.Rows(state.Rules));
        return summary.Samples == state.Samples && summary.Envelope.Count == state.Envelope.Count ? summary
            : throw new InvalidDataException("its rows do not give what it says of them");
    }

    /// <summary>Whether two states are the same, bit for bit.</summary>
    public static bool Same(SummaryState a, SummaryState b)
    {
        static string Text(SummaryState state) => JsonSerializer.Serialize(state, SummaryContext.Default.SummaryState);
        static ReadOnlySpan<byte> BytesOf(EnvelopeState? state) => MemoryMarshal.AsBytes<EnvelopeBucket>((state?.Cells ?? []).AsSpan());
        return Text(a) == Text(b) && BytesOf(a.Envelope).SequenceEqual(BytesOf(b.Envelope))
            && BytesOf(a.BetweenRows?.Unseen).SequenceEqual(BytesOf(b.BetweenRows?.Unseen))
            && (a.Counter?.Fold.Points ?? []).SequenceEqual(b.Counter?.Fold.Points ?? []);
    }

    private static (int Cells, int Unseen, int Points) Counts(SummaryState state) =>
        (state.Envelope.Count, state.BetweenRows?.Unseen.Count ?? 0, state.Counter?.Fold.Count ?? 0);
}
