using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

// Rows that a first reading found damaged. Whether a row is one of them depends on nothing but itself, so that pieces of a log join as they
// do without.
public sealed partial class LogSummary
{
    private FaultTally[] _marked = [];

    /// <summary>Rows in each of the marked stretches.</summary>
    internal IReadOnlyList<FaultTally> Marked => _marked;

    private bool LeavesOut(in Sample sample, double powerW)
    {
        bool leaves = false;
        for (int i = 0; i < _marked.Length; i++)
        {
            var stretch = _rules.Marked[i];
            if (sample.TimeS >= stretch.FromS && sample.TimeS <= stretch.ToS && powerW > stretch.AboveW && powerW <= stretch.AtMostW)
            {
                _marked[i] = _marked[i].Plus(sample.Line);
                leaves |= !stretch.Kept;
            }
        }

        return leaves;
    }

    private void JoinMarked(LogSummary b)
    {
        var joined = new FaultTally[_marked.Length];
        for (int i = 0; i < joined.Length; i++)
        {
            joined[i] = FaultTally.Join(_marked[i], b._marked[i]);
        }

        _marked = joined;
    }
}
