namespace ChargeAudit.Measuring;

/// <summary>Where a meter's stated accuracy ends; each null where nothing is stated.</summary>
public sealed record MeterLimits
{
    /// <summary>Least power factor at which the accuracy holds. [1]</summary>
    public double? LeastPowerFactor { get; init; }

    /// <summary>Greatest crest factor of the current at which it holds. [1]</summary>
    public double? GreatestCrestFactor { get; init; }

    /// <summary>Below this power the meter may register nothing, or too little. [W]</summary>
    public double? StartingPowerW { get; init; }
}
