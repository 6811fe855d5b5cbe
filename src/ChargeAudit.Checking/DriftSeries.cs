using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>One figure over a history: what the drift test saw, measurement by measurement.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Scatter">Scatter of a single run, as a share, pooled over the history. [1]</param>
/// <param name="Steps">The measurements in order of time, the first baseline first.</param>
/// <param name="Finding">What the test found.</param>
public sealed record DriftSeries(
    string Method, MeasuringPoint Point, CheckedFigure Figure, string Unit, double Scatter, IReadOnlyList<DriftStep> Steps,
        DriftFinding Finding)
{
    /// <summary>What it was measured with.</summary>
    public IReadOnlyList<string> Meters { get; init; } = [];
}

/// <summary>One measurement in a drift test.</summary>
/// <param name="Time">When it was checked; null for the first baseline.</param>
/// <param name="Name">Title of the design.</param>
/// <param name="Value">Its figure, in the series' unit.</param>
/// <param name="Runs">Runs behind it. [1]</param>
/// <param name="Ratio">Its figure divided by the first baseline's. [1]</param>
/// <param name="Low">Lower end of the ratio's 95 % interval by the scatter of the runs; the first baseline is taken as it is. [1]</param>
/// <param name="High">Its upper end. [1]</param>
/// <param name="Verdict">What the check found; null for the first baseline.</param>
/// <param name="Counted">Whether it counts in the chart: a candidate that failed was not accepted, and does not.</param>
/// <param name="LowLimit">Lower control limit: three standard deviations below the mean of all before it, by the first baseline; null where
/// it does not count. [1]</param>
/// <param name="HighLimit">Upper control limit, likewise. [1]</param>
/// <param name="Score">The change-point score after it, as a normal deviate; null where it does not count. [1]</param>
/// <param name="Limit">What the score must not exceed; null where there is none. [1]</param>
public sealed record DriftStep(
    DateTimeOffset? Time,
    string Name,
    double Value,
    int Runs,
    double Ratio,
    double Low,
    double High,
    CheckVerdict? Verdict,
    bool Counted,
    double? LowLimit,
    double? HighLimit,
    double? Score,
    double? Limit);
