using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>Counts the rows of blocks that had been written before.</summary>
/// <param name="blocks">First and last line of each, in rising order.</param>
/// <param name="tally">Takes the fault.</param>
internal sealed class RepeatedLines(IReadOnlyList<(long From, long To)> blocks, FaultCounts tally)
{
    private int _next;

    /// <summary>Rows so far.</summary>
    public long Count { get; private set; }

    /// <summary>Whether a row is one of them; lines must rise from call to call.</summary>
    public bool Takes(long line)
    {
        while (_next < blocks.Count && line > blocks[_next].To)
        {
            _next++;
        }

        if (_next == blocks.Count || line < blocks[_next].From)
        {
            return false;
        }

        Count++;
        tally.Add(FaultKind.RepeatedRows, line,
            "Rows that were written before, with the same readings in the same order; they were left out.");
        return true;
    }
}
