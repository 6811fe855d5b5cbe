using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Whether a figure drifts upwards over the checks in a history.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="Checks">How many measurements the chart holds, the first baseline included. [1]</param>
/// <param name="Sum">The cumulative sum after the last one, in standard deviations. [1]</param>
/// <param name="Limit">What it must not exceed. [1]</param>
/// <param name="ChecksBetweenFalseAlarms">Average run length with no drift: checks from one false alarm to the next. [1]</param>
/// <param name="ChecksToFindOneSigma">Average run length after a step of one standard deviation of a check. [1]</param>
/// <param name="SinceFirst">Last measurement by the first. [1]</param>
/// <param name="Margin">How much greater it may be. [1]</param>
public sealed record DriftFinding(
    string Method,
    MeasuringPoint Point,
    CheckedFigure Figure,
    int Checks,
    double Sum,
    double Limit,
    double ChecksBetweenFalseAlarms,
    double ChecksToFindOneSigma,
    double SinceFirst,
    double Margin)
{
    /// <summary>Whether the sum lies above the limit.</summary>
    public bool Alarm => Sum > Limit;

    /// <summary>Whether the drift has carried the figure beyond its margin since the first measurement.</summary>
    public bool BeyondMargin => Alarm && SinceFirst > 1 + Margin;
}
