using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

// Pieces of one log, and how they join to the whole.
public sealed partial class LogSummary
{
    /// <summary>The summary of two neighbouring pieces of one log, neither of them finished. Both are left as they are.</summary>
    public static LogSummary Combine(LogSummary a, LogSummary b)
    {
        var joined = a.Copy();
        joined.Join(b.Copy());
        return joined;
    }

    /// <summary>An empty summary for a later piece of this log; join it with <see cref="Join(LogSummary)"/>.</summary>
    /// <param name="spent">A piece that was joined and is not needed any more: its memory is used again; null where there is none.</param>
    public LogSummary ForLaterPiece(LogSummary? spent = null)
    {
        EndRun();
        return new(_rules) { _envelope = _envelope.ForLaterPiece(spent?._envelope), _betweenRows = _betweenRows?.ForLaterPiece() };
    }

    /// <summary>Takes in the summary of the piece that follows, neither of them finished. The piece says what it said, and takes no more samples.</summary>
    /// <exception cref="InvalidOperationException">The summary is finished.</exception>
    public void Join(LogSummary b)
    {
        RefuseIfFinished();
        JoinCounters(b);
        if (b.Samples > 0)
        {
            if (Samples > 0)
            {
                Join(_last, b._first);
                CountEqual(in _last, in b._first);
                JoinBetweenRows(b);
            }
            else
            {
                _first = b._first;
                _betweenRows = b._betweenRows?.Clone();
            }

            _last = b._last;
        }

        Samples += b.Samples;
        WithoutPower += b.WithoutPower;
        _energyJ += b.EnergyJ;
        _voltSeconds += b.VoltSeconds;
        _chargeC += b.ChargeC;
        _coveredS += b.CoveredS;
        ReversedJ += b.ReversedJ;
        _dwelling += b._dwelling;
        PeakPowerW = Math.Max(PeakPowerW, b.PeakPowerW);
        Gaps = GapTally.Join(Gaps, b.Gaps);
        EndRun();
        b.EndRun();
        _envelope.Join(b._envelope);
        _gapFaults = FaultTally.Join(_gapFaults, b._gapFaults);
        _reversed = FaultTally.Join(_reversed, b._reversed);
        _implausible = FaultTally.Join(_implausible, b._implausible);
        _temperature = MeanTally.Join(_temperature, b._temperature);
        JoinMarked(b);
    }

    private LogSummary Copy()
    {
        var copy = (LogSummary)MemberwiseClone();
        copy._envelope = _running ? _envelope.With(in _run) : _envelope.Clone();
        copy.SumRun();
        copy._energyTrail = _energyTrail?.Clone();
        copy._betweenRows = _betweenRows?.Clone();
        return copy;
    }
}
