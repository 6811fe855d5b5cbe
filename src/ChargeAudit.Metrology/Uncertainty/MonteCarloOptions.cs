namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>How a Monte Carlo propagation is run.</summary>
public sealed record MonteCarloOptions
{
    /// <summary>Seed of the random numbers; the same seed gives the same digits.</summary>
    public int Seed { get; init; } = 20_261;

    /// <summary>Probability of the intervals, between 0 and 1. [1]</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>Significant digits of the standard uncertainty that are to be stable, 1 or 2. [1]</summary>
    public int SignificantDigits { get; init; } = 2;

    /// <summary>Trials made in any case, so that a first few blocks that happen to agree do not end it. [1]</summary>
    public int FewestTrials { get; init; } = 100_000;

    /// <summary>Trials after which it stops though the digits are not stable; a double each is kept. [1]</summary>
    public int MostTrials { get; init; } = 1_000_000;
}
