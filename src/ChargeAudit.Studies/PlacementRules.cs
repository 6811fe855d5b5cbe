namespace ChargeAudit.Studies;

/// <summary>What a study asks of the place of the device on the pad. Immutable.</summary>
public sealed record PlacementRules
{
    /// <summary>The rise unless set. [1]</summary>
    public const double UsualRise = 0.05;

    /// <summary>By what share of its value at the best position the energy may rise: the offset where it does is the position tolerance.
    /// [1]</summary>
    public double Rise { get; init; } = UsualRise;

    /// <summary>Whether a number can be a rise.</summary>
    /// <param name="rise">The number. [1]</param>
    public static bool IsRise(double rise) => rise is >= 0.001 and < 1;
}
