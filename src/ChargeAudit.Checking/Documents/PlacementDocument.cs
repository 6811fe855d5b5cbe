namespace ChargeAudit.Checking.Documents;

/// <summary>What the place of the device changes.</summary>
internal sealed record PlacementDocument(
    double Rise, IReadOnlyList<MethodPlacementDocument> Methods, IReadOnlyList<PlacementDifferenceDocument> Differences);

/// <summary>Two methods in the same places.</summary>
internal sealed record PlacementDifferenceDocument(
    string First, string Second, IReadOnlyList<PositionDifferenceDocument> Positions, string? PositionsReason);

/// <summary>Two methods in one place.</summary>
internal sealed record PositionDifferenceDocument(
    double XMm,
    double YMm,
    MeasuredDocument? First,
    string? FirstReason,
    MeasuredDocument? Second,
    string? SecondReason,
    MeasuredDocument? Difference,
    string? DifferenceReason);

/// <summary>A method's places.</summary>
internal sealed record MethodPlacementDocument(
    string Method,
    string Figure,
    string From,
    string? To,
    string? ToReason,
    IReadOnlyList<string> Runs,
    IReadOnlyList<PositionDocument> Positions,
    IReadOnlyList<double[]> Hull,
    string? HullReason,
    IReadOnlyList<ResponseDocument> Responses,
    ToleranceDocument? Tolerance,
    string? ToleranceReason,
    ModelDocument? Model,
    string? ModelReason,
    IReadOnlyList<string> Notes);

/// <summary>What was measured in one place.</summary>
internal sealed record PositionDocument(
    double XMm,
    double YMm,
    IReadOnlyList<string> Runs,
    MeasuredDocument? Value,
    string? ValueReason,
    MeasuredDocument? ToBest,
    string? ToBestReason,
    MeasuredDocument? ToReference,
    string? ToReferenceReason);

/// <summary>What one factor changes.</summary>
internal sealed record ResponseDocument(
    string Factor, string Unit, IReadOnlyList<LevelDocument> Levels, int Order, string? Caution, string? CautionReason);

/// <summary>The figure at one value of a factor.</summary>
internal sealed record LevelDocument(
    string Name, double? At, string? AtReason, IReadOnlyList<string> Runs, MeasuredDocument? Value, string? ValueReason);

/// <summary>How far the device may lie from the best place.</summary>
internal sealed record ToleranceDocument(
    double Rise,
    double? BestXMm,
    string? BestXMmReason,
    double? BestYMm,
    string? BestYMmReason,
    bool BestIsFitted,
    double? OffsetMm,
    string? OffsetMmReason,
    double? LowMm,
    string? LowMmReason,
    double? HighMm,
    string? HighMmReason,
    double MeasuredToMm,
    string Sentence);

/// <summary>A fitted model of the factors.</summary>
internal sealed record ModelDocument(
    string Unit,
    IReadOnlyList<ModelTermDocument> Terms,
    int Runs,
    double DegreesOfFreedom,
    double? ResidualScatter,
    string? ResidualScatterReason,
    double? RSquared,
    double? ConditionNumber,
    LackOfFitDocument? LackOfFit,
    string? LackOfFitReason,
    IReadOnlyList<string> Notes);

/// <summary>A term of the model.</summary>
internal sealed record ModelTermDocument(
    string Id,
    MeasuredDocument? Coefficient,
    string? CoefficientReason,
    double? Scatter,
    string? ScatterReason,
    double? SharedMeasurement,
    string? SharedMeasurementReason);

/// <summary>Whether the model's form fits.</summary>
internal sealed record LackOfFitDocument(double? F, int ModelFreedom, int RepeatFreedom, double? Probability);
