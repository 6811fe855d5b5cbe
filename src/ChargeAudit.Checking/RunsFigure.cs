using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking;

/// <summary>A figure together with the runs behind it.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Runs">How many runs. [1]</param>
/// <param name="ScatterSource">Source that holds the scatter between runs; null where none does.</param>
internal sealed record RunsFigure(Measured Value, int Runs, InfluenceSource? ScatterSource)
{
    /// <summary>Whether what counts as runs are blocks of runs (days, set-ups).</summary>
    public bool InBlocks { get; init; }

    /// <summary>Whether all runs were made in one block, so that nothing tells how blocks differ.</summary>
    public bool OneBlock { get; init; }

    /// <summary>Whether each run goes with one of the wired reference.</summary>
    public bool WithReference { get; init; }

    /// <summary>Variance of a single run, in the figure's unit squared; zero where the scatter is not known.</summary>
    public double RunVariance => Scatter is { } s ? Runs * s.SignedStandardUncertainty * s.SignedStandardUncertainty : 0;

    /// <summary>Scatter of a single run divided by the figure; null where it is not known. [1]</summary>
    public double? RelativeScatter => Scatter is { } && Value.Value != 0 ? Math.Sqrt(RunVariance) / Math.Abs(Value.Value) : null;

    private UncertaintyComponent? Scatter
    {
        get
        {
            foreach (var c in Value.Components)
            {
                if (c.Source == ScatterSource)
                {
                    return c;
                }
            }

            return null;
        }
    }
}
