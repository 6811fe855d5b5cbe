using ChargeAudit.Logs;
using ChargeAudit.Pooling.Audits;

namespace ChargeAudit.Pooling.Results;

/// <summary>Many audits as one answer. Immutable.</summary>
public sealed record PoolResult
{
    /// <summary>Title for people.</summary>
    public required string Title { get; init; }

    /// <summary>The measuring point of all figures.</summary>
    public required MeasuringPoint Point { get; init; }

    /// <summary>The use and tariff that years rest on, in words.</summary>
    public required string Year { get; init; }

    /// <summary>The rows that were pooled: one for each method of an audit.</summary>
    public required IReadOnlyList<PoolRow> Rows { get; init; }

    /// <summary>The figures: each with each charger, and with all chargers together where there are several.</summary>
    public required IReadOnlyList<PooledFigure> Figures { get; init; }

    /// <summary>The overhead if meters of one name without a key were one instrument; empty where no such name occurs twice.</summary>
    public IReadOnlyList<PooledFigure> AsOneInstrument { get; init; } = [];

    /// <summary>The chargers beside each other; null where there is no ranking.</summary>
    public ChargerRanking? Ranking { get; init; }

    /// <summary>Why there is no ranking; null where there is one.</summary>
    public string? NoRanking { get; init; }

    /// <summary>Effects of factors.</summary>
    public IReadOnlyList<FactorEffect> Factors { get; init; } = [];

    /// <summary>Why the effect of a factor was not worked out.</summary>
    public IReadOnlyList<string> NoRegression { get; init; } = [];

    /// <summary>Audits that were left out, with the reason.</summary>
    public IReadOnlyList<string> Apart { get; init; } = [];

    /// <summary>What speaks against reading the answer as it stands.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];

    /// <summary>All audits that were given, with their files.</summary>
    public required IReadOnlyList<PooledAudit> Audits { get; init; }

    /// <summary>The figure that comes first: the overhead over all chargers, or with the one there is.</summary>
    public PooledFigure? Main => Figures.FirstOrDefault(f => f.Figure == PoolFigure.OverheadRatio);
}
