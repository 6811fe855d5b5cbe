using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>The mean of several runs of one thing, with what its uncertainty rests on.</summary>
/// <param name="Mean">The mean; its components hold the meters' shared errors and, from two runs on, the scatter between runs.</param>
/// <param name="Count">How many runs. [1]</param>
/// <param name="StandardDeviation">Experimental standard deviation of a single run, in the runs' unit; null for one run.</param>
/// <param name="Note">What to tell the reader, as a sentence; null where there is nothing.</param>
public sealed record MeanOfRuns(Measured Mean, int Count, double? StandardDeviation, string? Note)
{
    /// <summary>The scatter within and between blocks of runs; null where it was not stated which run was made in which.</summary>
    public BlockScatter? Blocks { get; init; }

    /// <summary>Whether the scatter between runs is known: from two runs on.</summary>
    public bool RepeatabilityKnown => Count > 1;

    /// <summary>Scatter of a single run divided by the mean; null for one run. [1]</summary>
    public double? RelativeStandardDeviation => StandardDeviation / Math.Abs(Mean.Value);
}
