namespace ChargeAudit.Measuring.Integration;

// A summary written out as its state, and made from it again.
public sealed partial class LogSummary
{
    /// <summary>All that it holds.</summary>
    internal SummaryState State()
    {
        EndRun();
        return new SummaryState
        {
            Rules = _rules,
            Finished = _finished,
            Samples = Samples,
            WithoutPower = WithoutPower,
            EnergyJ = _energyJ,
            VoltSeconds = _voltSeconds,
            ChargeC = _chargeC,
            CoveredS = _coveredS,
            ReversedJ = ReversedJ,
            PeakPowerW = PeakPowerW,
            First = _first,
            Last = _last,
            GapFaults = _gapFaults,
            Reversed = _reversed,
            Implausible = _implausible,
            Marked = _marked,
            Temperature = _temperature,
            Dwelling = _dwelling,
            Gaps = Gaps,
            Envelope = _envelope.State(),
            BetweenRows = _betweenRows?.State(),
            Counter = _energyTrail?.State(),
        };
    }

    /// <summary>The summary that such a state was taken of.</summary>
    internal static LogSummary Of(SummaryState state)
    {
        var summary = new LogSummary(state.Rules)
        {
            _finished = state.Finished,
            _fromS = state.Finished ? double.PositiveInfinity : state.Rules.FromS,
            Samples = state.Samples,
            WithoutPower = state.WithoutPower,
            _energyJ = state.EnergyJ,
            _voltSeconds = state.VoltSeconds,
            _chargeC = state.ChargeC,
            _coveredS = state.CoveredS,
            ReversedJ = state.ReversedJ,
            PeakPowerW = state.PeakPowerW,
            _first = state.First,
            _last = state.Last,
            _gapFaults = state.GapFaults,
            _reversed = state.Reversed,
            _implausible = state.Implausible,
            _marked = [.. state.Marked],
            _temperature = state.Temperature,
            _dwelling = state.Dwelling,
            Gaps = state.Gaps,
            _envelope = PowerEnvelope.Of(state.Envelope),
            _energyTrail = state.Counter is { } counter ? CounterTrail.Of(counter, state.Rules.ImplausibleAboveW) : null,
        };
        if (state.BetweenRows is { } between)
        {
            summary._betweenRows?.Take(between);
        }

        if (state.Finished)
        {
            // Sums and gaps hold what the counter brought already.
            summary.JudgeCounter();
        }

        return summary;
    }

    /// <summary>The summary that such a state was taken of, from the rows that it was made of; of the state only what they do not tell is
    /// taken.</summary>
    internal static LogSummary Of(SummaryState state, KeptRows rows)
    {
        var summary = rows.Summed();
        summary.WithoutPower = state.WithoutPower;
        summary._first = state.First;
        summary._last = state.Last;
        summary._implausible = state.Implausible;
        summary._marked = [.. state.Marked];
        summary._temperature = state.Temperature;
        return summary;
    }
}
