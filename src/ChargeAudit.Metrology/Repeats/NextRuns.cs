using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>How a number of further runs is spread over blocks, and how well the mean of those runs would then be known.</summary>
/// <param name="Blocks">Blocks. [1]</param>
/// <param name="RunsEach">Runs in each. [1]</param>
/// <param name="HalfWidth">Half-width of the 95 % interval by scatter alone, in the unit of the scatter; positive infinity with one block,
/// which does not show how blocks differ.</param>
public sealed record NextRuns(int Blocks, int RunsEach, double HalfWidth)
{
    /// <summary>All ways to spread runs evenly over blocks, the one that tells the most first, by the half-width √(s_B²/b + s_W²/(b·n))
    /// times Student's t at b − 1 degrees of freedom. More blocks always tell more; how much more is what this shows.</summary>
    /// <param name="runs">Runs to make. [1]</param>
    /// <param name="varianceWithin">Variance of a run within its block.</param>
    /// <param name="varianceBetween">Variance of a block's true mean.</param>
    public static IReadOnlyList<NextRuns> Of(int runs, double varianceWithin, double varianceBetween) =>
    [
        .. Enumerable.Range(1, runs).Where(b => runs % b == 0).OrderDescending().Select(b => new NextRuns(b, runs / b, b == 1
            ? double.PositiveInfinity
            : StudentDistribution.TwoSidedFactor(0.95, b - 1) * Math.Sqrt((varianceBetween / b) + (varianceWithin / runs)))),
    ];
}
