using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>The energy counter beside the readings, as a witness: what it advanced by between two times. Null where a log has none that can
/// be used.</summary>
internal sealed class CounterBeside
{
    private readonly double[] _timesS;
    private readonly double[] _energiesJ;

    private CounterBeside(LogSummary summary)
    {
        _timesS = [.. summary.Counted.Select(c => c.TimeS)];
        _energiesJ = [.. summary.Counted.Select(c => c.EnergyJ)];
        StepJ = summary.CounterStepJ;
    }

    /// <summary>Its step. [J]</summary>
    public double StepJ { get; }

    /// <summary>The counter of a log.</summary>
    public static CounterBeside? Of(LogSummary summary) =>
        summary.Rules.Source != PowerSource.EnergyCounter && summary.Counted.Count >= 2 && summary.CounterStepJ > 0
            && summary.CounterEnergyJ > 0
            && summary.CounterResets.Count == 0 && summary.CounterFalls.Count == 0
            ? new CounterBeside(summary)
            : null;

    /// <summary>Its advance from the last reading before a time to the first after another. [J]</summary>
    public double AdvanceJ(double fromS, double toS)
    {
        int from = Array.BinarySearch(_timesS, fromS);
        int to = Array.BinarySearch(_timesS, toS);
        from = Math.Clamp(from < 0 ? ~from - 1 : from, 0, _timesS.Length - 1);
        to = Math.Clamp(to < 0 ? ~to : to, 0, _timesS.Length - 1);
        return _energiesJ[to] - _energiesJ[from];
    }
}
