namespace ChargeAudit.Checking.Documents;

/// <summary>The stage between two measuring points.</summary>
internal sealed record StageDocument(
    string Method,
    string From,
    string To,
    MeasuredDocument? Efficiency,
    string? EfficiencyReason,
    MeasuredDocument? Loss,
    string? LossReason,
    StageCheckDocument? Check,
    string? CheckReason);

/// <summary>What to think of more energy out of a stage than into it.</summary>
internal sealed record StageCheckDocument(double? Efficiency, double? Probability, string? ProbabilityReason, string Text);

/// <summary>Where the energy goes.</summary>
internal sealed record LossSplitDocument(
    string Method,
    string From,
    MeasuredDocument? EnergyIn,
    string? EnergyInReason,
    IReadOnlyList<LossPartDocument> Parts,
    MeasuredDocument? Arrives,
    string? ArrivesReason,
    string? LastPoint,
    string? LastPointReason,
    string? NotSeparated,
    string? NotSeparatedReason);

/// <summary>A part of the losses.</summary>
internal sealed record LossPartDocument(
    IReadOnlyList<string> Places, string From, string? To, string? ToReason, MeasuredDocument? Loss, string? LossReason);

/// <summary>How an adapter converts.</summary>
internal sealed record AdapterCurveDocument(
    string Method,
    double? OutputVoltageV,
    string? OutputVoltageVReason,
    int Points,
    double? LeastOutputW,
    double? GreatestOutputW,
    MeasuredDocument? Fixed,
    string? FixedReason,
    MeasuredDocument? PerWatt,
    string? PerWattReason,
    MeasuredDocument? PerSquare,
    string? PerSquareReason,
    IReadOnlyList<EfficiencyAtDocument> Efficiencies,
    IReadOnlyList<EfficiencyAtRatedDocument> AtRated,
    MeasuredDocument? Average,
    string? AverageReason,
    IReadOnlyList<string> Published);

/// <summary>An adapter's efficiency at one load.</summary>
internal sealed record EfficiencyAtDocument(double? OutputW, MeasuredDocument? Efficiency, string? EfficiencyReason);

/// <summary>An adapter's efficiency at a share of its rated load.</summary>
internal sealed record EfficiencyAtRatedDocument(int PercentOfRated, double? OutputW, MeasuredDocument? Efficiency,
    string? EfficiencyReason);

/// <summary>A method beside the reference.</summary>
internal sealed record ComparisonDocument(
    string Reference,
    string Method,
    string Point,
    MeasuredDocument? OverheadRatio,
    string? OverheadRatioReason,
    MeasuredDocument? ExtraEnergyPerCharge,
    string? ExtraEnergyPerChargeReason,
    MeasuredDocument? ExtraCostPerYear,
    string? ExtraCostPerYearReason,
    IReadOnlyList<EndRuleDocument> EndRules);

/// <summary>The ratio if charges were ended by another rule.</summary>
internal sealed record EndRuleDocument(string Rule, double? OverheadRatio, string? OverheadRatioReason, bool ForInformationOnly);
