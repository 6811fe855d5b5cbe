namespace ChargeAudit.Reports.Json;

/// <summary>Many audits as one answer.</summary>
internal sealed record PooledDocument(
    string Schema,
    string Title,
    string Point,
    string Year,
    IReadOnlyList<PooledFigureDocument> Figures,
    IReadOnlyList<PooledFigureDocument> AsOneInstrument,
    PooledRankingDocument? Ranking,
    string? RankingReason,
    IReadOnlyList<PooledFactorDocument> Factors,
    IReadOnlyList<string> NoRegression,
    IReadOnlyList<string> Apart,
    IReadOnlyList<string> Doubts,
    IReadOnlyList<PooledAuditDocument> Audits);

/// <summary>A value with its interval.</summary>
internal sealed record PooledValueDocument(double Value, string Unit, double? Low, double? High, double Coverage);

/// <summary>A figure over devices.</summary>
internal sealed record PooledFigureDocument(
    string Figure,
    string? Charger,
    bool PooledAsLogarithm,
    IReadOnlyList<PooledDeviceDocument> Devices,
    PooledAnswerDocument? Answer,
    string? AnswerReason,
    IReadOnlyList<string> Missing);

/// <summary>A device's part in a figure.</summary>
internal sealed record PooledDeviceDocument(
    string Device,
    IReadOnlyList<string> Audits,
    PooledValueDocument Own,
    double? Weight,
    string? WeightReason,
    PooledValueDocument? MeanWithout,
    string? MeanWithoutReason,
    double? Influence,
    string? InfluenceReason);

/// <summary>The mean over devices, and what another device may give.</summary>
internal sealed record PooledAnswerDocument(
    PooledValueDocument Mean,
    double MeanU,
    double Dof,
    PooledSpreadDocument Spread,
    PooledValueDocument AnotherDevice,
    PooledValueDocument NextMeasurement,
    IReadOnlyList<PooledShareDocument> Shares);

/// <summary>How much devices differ.</summary>
internal sealed record PooledSpreadDocument(double Reml, double PauleMandel, double Low, double? High, double Q, double Dof);

/// <summary>What one cause has of the mean's variance.</summary>
internal sealed record PooledShareDocument(string What, double Share, bool SharedByAll);

/// <summary>The chargers beside each other.</summary>
internal sealed record PooledRankingDocument(
    IReadOnlyList<RankedChargerDocument> Chargers,
    IReadOnlyList<RankedDeviceDocument> Devices,
    IReadOnlyList<RankedCellDocument> Cells,
    IReadOnlyList<RankedPairDocument> Pairs,
    double DeviceSpread,
    double InteractionSpread,
    double? AuditSpread,
    string? AuditSpreadReason,
    double Dof);

/// <summary>A charger over all devices.</summary>
internal sealed record RankedChargerDocument(string Charger, PooledValueDocument Ratio, double Best, double FirstThree);

/// <summary>A device over all chargers.</summary>
internal sealed record RankedDeviceDocument(string Device, double Factor);

/// <summary>A device on a charger.</summary>
internal sealed record RankedCellDocument(string Device, string Charger, PooledValueDocument Ratio, int Audits);

/// <summary>Two chargers.</summary>
internal sealed record RankedPairDocument(string First, string Second, PooledValueDocument Ratio, double P, bool ToldApart);

/// <summary>The effect of a factor.</summary>
internal sealed record PooledFactorDocument(
    string Factor, string? Level, string? Base, PooledValueDocument Ratio, double Dof, int Audits);

/// <summary>An audit that was pooled.</summary>
internal sealed record PooledAuditDocument(
    string File, string Sha256, string Device, string Reference, IReadOnlyDictionary<string, string> Instruments);
