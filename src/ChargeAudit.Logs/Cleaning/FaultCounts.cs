using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>Counts the faults of one log by kind: first and last line, how many, and one sentence; its size does not grow with the log.</summary>
/// <param name="path">Name of the log, for the sentence of a refusal.</param>
/// <param name="strict">Whether the first fault refuses the log.</param>
internal sealed class FaultTally(string path, bool strict)
{
    private readonly Dictionary<FaultKind, Entry> entries = [];

    /// <summary>Name of the log.</summary>
    public string Path => path;

    /// <summary>All faults counted so far, in the order of their first lines.</summary>
    public IReadOnlyList<Fault> Faults => [.. entries.Select(e => e.Value.ToFault(e.Key)).OrderBy(f => f.FirstLine).ThenBy(f => f.Kind)];

    /// <summary>Counts a fault.</summary>
    /// <param name="kind">What is wrong.</param>
    /// <param name="line">Line number in the file.</param>
    /// <param name="state">What the sentence is made from.</param>
    /// <param name="detail">Makes the sentence; called for the first of each kind only.</param>
    /// <exception cref="InputException">Under strict reading.</exception>
    public void Add<TState>(FaultKind kind, long line, TState state, Func<TState, string> detail)
        where TState : allows ref struct
    {
        if (entries.TryGetValue(kind, out Entry? entry))
        {
            entry.Count++;
            entry.LastLine = line;
            return;
        }

        entry = new Entry { FirstLine = line, LastLine = line, Count = 1, Detail = detail(state) };
        entries.Add(kind, entry);
        if (strict)
        {
            throw LogErrors.StrictFault(path, entry.ToFault(kind));
        }
    }

    /// <summary>Counts a fault with a fixed sentence.</summary>
    public void Add(FaultKind kind, long line, string detail) => Add(kind, line, detail, static d => d);

    /// <summary>Counts several at once, as found in a series of rows.</summary>
    public void AddMany(FaultKind kind, long firstLine, long lastLine, long count, string detail)
    {
        Add(kind, firstLine, detail);
        Entry entry = entries[kind];
        entry.Count += count - 1;
        entry.LastLine = lastLine;
    }

    private sealed class Entry
    {
        public long FirstLine { get; init; }

        public long LastLine { get; set; }

        public long Count { get; set; }

        public required string Detail { get; init; }

        public Fault ToFault(FaultKind kind) => new(kind, FirstLine, LastLine, Count, Detail);
    }
}
