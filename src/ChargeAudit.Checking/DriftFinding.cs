using System.Text.Json.Serialization;
using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>What a drift seems to come from.</summary>
public enum DriftCause
{
    /// <summary>No alarm was raised, so nothing was asked.</summary>
    [JsonStringEnumMemberName("none")] None,

    /// <summary>The figure moved and the wired reference on the same meter did not, or less.</summary>
    [JsonStringEnumMemberName("design")] Design,

    /// <summary>The wired reference on the same meter moved along: the meter, or what else both have in common.</summary>
    [JsonStringEnumMemberName("meter")] Meter,

    /// <summary>It cannot be told.</summary>
    [JsonStringEnumMemberName("not-known")] NotKnown,
}

/// <summary>Whether a figure drifts upwards over the checks in a history.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="Checks">How many measurements the chart holds, the first baseline included. [1]</param>
/// <param name="Score">The greatest change-point statistic after the last one, as a normal deviate. [1]</param>
/// <param name="Limit">What it must not exceed. [1]</param>
/// <param name="ChecksBetweenFalseAlarms">Checks from one false alarm of the whole check to the next, on average, with no change.
/// [1]</param>
/// <param name="ChangedAfter">Measurements before the likeliest change, the first baseline included. [1]</param>
/// <param name="Change">How far it has moved there: mean after the change divided by the mean before. [1]</param>
/// <param name="SinceFirst">Last measurement divided by the first. [1]</param>
/// <param name="Margin">How much greater it may be. [1]</param>
public sealed record DriftFinding(
    string Method,
    MeasuringPoint Point,
    CheckedFigure Figure,
    int Checks,
    double Score,
    double Limit,
    double ChecksBetweenFalseAlarms,
    int ChangedAfter,
    double Change,
    double SinceFirst,
    double Margin)
{
    /// <summary>Whether the score lies above the limit.</summary>
    public bool Alarm => Score > Limit;

    /// <summary>What the drift seems to come from.</summary>
    public DriftCause Cause { get; init; }

    /// <summary>Why, as a sentence; null where nothing was asked.</summary>
    public string? CauseReason { get; init; }

    /// <summary>Whether the drift has carried the figure beyond its margin since the first measurement, and is not the meter's.</summary>
    public bool BeyondMargin => Alarm && SinceFirst > 1 + Margin && Cause != DriftCause.Meter;
}
