using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>What the place of the device changes, for each method whose runs carry factors. Immutable.</summary>
/// <param name="Rise">The rise that the position tolerance refers to. [1]</param>
/// <param name="Methods">One entry for each method.</param>
/// <param name="Differences">Each further method beside the first one, at common positions; empty where there is one method only.</param>
public sealed record PlacementResult(double Rise, IReadOnlyList<MethodPlacement> Methods, IReadOnlyList<PlacementDifference> Differences);

/// <summary>What the place changes for one method.</summary>
public sealed record MethodPlacement
{
    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>What is compared.</summary>
    public required PlacementFigure Figure { get; init; }

    /// <summary>The runs that it rests on.</summary>
    public required IReadOnlyList<PlacedRun> Runs { get; init; }

    /// <summary>Positions of the map with their means; empty where no run says where the device lay.</summary>
    public IReadOnlyList<MeasuredPosition> Positions { get; init; } = [];

    /// <summary>The map between the positions; null where there is none.</summary>
    public PositionSurface? Map { get; init; }

    /// <summary>Why there is no map, as a sentence; null where there is one.</summary>
    public string? WhyNoMap { get; init; }

    /// <summary>What each factor changes; those with two levels or more.</summary>
    public IReadOnlyList<ResponseCurve> Responses { get; init; } = [];

    /// <summary>The linear model; null where there is none.</summary>
    public PlacementModel? Model { get; init; }

    /// <summary>Why there is no model, as a sentence; null where there is one.</summary>
    public string? WhyNoModel { get; init; }

    /// <summary>How far the device may lie off; null where no offset was varied.</summary>
    public PositionTolerance? Tolerance { get; init; }

    /// <summary>Remarks, as sentences: runs left out, factors that changed together.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>A run with what was set for it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Factors">Its factors.</param>
/// <param name="Shown">The figure of the map.</param>
/// <param name="Taken">What it took.</param>
public sealed record PlacedRun(string Id, RunFactors Factors, Measured Shown, Measured Taken);

/// <summary>A position that was measured, once or several times.</summary>
/// <param name="XMm">Offset along the first direction. [mm]</param>
/// <param name="YMm">Offset along the second direction. [mm]</param>
/// <param name="Runs">Ids of the runs there.</param>
/// <param name="Shown">Mean of the map's figure.</param>
/// <param name="Taken">Mean of what was taken.</param>
public sealed record MeasuredPosition(double XMm, double YMm, IReadOnlyList<string> Runs, Measured Shown, Measured Taken)
{
    /// <summary>What is taken here divided by what is taken at the best position; null where it is the best position. [1]</summary>
    public Measured? ToBest { get; init; }

    /// <summary>What is taken here divided by what the wired reference takes; null where that was not measured alike. [1]</summary>
    public Measured? ToReference { get; init; }
}

/// <summary>Two methods at the positions that both maps cover.</summary>
/// <param name="First">Name of one method.</param>
/// <param name="Second">Name of the other.</param>
/// <param name="Positions">The positions; empty where there are none in common.</param>
/// <param name="WhyNone">Why there are none, as a sentence; null where there are some.</param>
public sealed record PlacementDifference(string First, string Second, IReadOnlyList<PositionDifference> Positions, string? WhyNone);

/// <summary>Two methods at one position.</summary>
/// <param name="XMm">Offset along the first direction. [mm]</param>
/// <param name="YMm">Offset along the second direction. [mm]</param>
/// <param name="First">The map's figure of one method.</param>
/// <param name="Second">That of the other.</param>
/// <param name="Difference">The second less the first; what one meter did to both cancels.</param>
public sealed record PositionDifference(double XMm, double YMm, Measured First, Measured Second, Measured Difference);
