using System.Runtime.InteropServices;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>Counts the faults of one log by kind: first and last line, how many, and one sentence; its size does not grow with the
/// log.</summary>
/// <param name="path">Name of the log, for the sentence of a refusal.</param>
/// <param name="strict">Whether the first fault refuses the log.</param>
internal sealed class FaultCounts(string path, bool strict)
{
    private readonly Dictionary<FaultKind, (FaultTally Tally, string Detail)> _entries = [];

    /// <summary>Name of the log.</summary>
    public string Path => path;

    /// <summary>All faults counted so far, in the order of their first lines.</summary>
    public IReadOnlyList<Fault> Faults =>
        [.. _entries.Select(e => e.Value.Tally.ToFault(e.Key, e.Value.Detail)).OrderBy(f => f.FirstLine).ThenBy(f => f.Kind)];

    /// <summary>Counts a fault.</summary>
    /// <param name="kind">What is wrong.</param>
    /// <param name="line">Line number in the file.</param>
    /// <param name="state">What the sentence is made from.</param>
    /// <param name="detail">Makes the sentence; called for the first of each kind only.</param>
    /// <exception cref="InputException">Under strict reading.</exception>
    public void Add<TState>(FaultKind kind, long line, TState state, Func<TState, string> detail)
        where TState : allows ref struct
    {
        ref var entry = ref CollectionsMarshal.GetValueRefOrAddDefault(_entries, kind, out bool known);
        entry.Tally = entry.Tally.Plus(line);
        if (!known)
        {
            entry.Detail = detail(state);
            if (strict)
            {
                throw LogErrors.StrictFault(path, entry.Tally.ToFault(kind, entry.Detail));
            }
        }
    }

    /// <summary>Counts a fault with a fixed sentence.</summary>
    public void Add(FaultKind kind, long line, string detail) => Add(kind, line, detail, static d => d);

    /// <summary>Counts several at once, as found in a series of rows.</summary>
    public void AddMany(FaultKind kind, long firstLine, long lastLine, long count, string detail)
    {
        Add(kind, firstLine, detail);
        ref var entry = ref CollectionsMarshal.GetValueRefOrNullRef(_entries, kind);
        entry.Tally = FaultTally.Join(entry.Tally, new FaultTally(lastLine, lastLine, count - 1));
    }
}
