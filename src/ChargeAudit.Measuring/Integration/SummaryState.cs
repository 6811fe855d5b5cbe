using System.Text.Json.Serialization;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// All that a summary holds, so that it can be written down and taken up again bit for bit. What follows from the rest is left out: the
/// judgement of the counter, and where a sum goes that belongs to the cell in use.
/// </summary>
internal sealed record SummaryState
{
    public required SummaryRules Rules { get; init; }
    public required bool Finished { get; init; }
    public required long Samples { get; init; }
    public required long WithoutPower { get; init; }
    public required CompensatedSum EnergyJ { get; init; }
    public required CompensatedSum VoltSeconds { get; init; }
    public required CompensatedSum ChargeC { get; init; }
    public required CompensatedSum CoveredS { get; init; }
    public required CompensatedSum ReversedJ { get; init; }
    public required double PeakPowerW { get; init; }
    public required PowerPoint First { get; init; }
    public required PowerPoint Last { get; init; }
    public required FaultTally GapFaults { get; init; }
    public required FaultTally Reversed { get; init; }
    public required FaultTally Implausible { get; init; }
    public required IReadOnlyList<FaultTally> Marked { get; init; }
    public required MeanTally Temperature { get; init; }
    public required long Dwelling { get; init; }
    public required GapTally Gaps { get; init; }
    public required EnvelopeState Envelope { get; init; }
    public required BetweenRowsState? BetweenRows { get; init; }
    public required TrailState? Counter { get; init; }
}

/// <summary>All that an envelope holds.</summary>
internal sealed record EnvelopeState
{
    public required int Exponent { get; init; }
    public required long First { get; init; }
    public required long? Anchor { get; init; }
    public required int Count { get; init; }
    public required bool HoldsValues { get; init; }

    /// <summary>Its cells, which stand in a table of their own.</summary>
    [JsonIgnore]
    public EnvelopeBucket[] Cells { get; init; } = [];
}

/// <summary>All that is remembered between rows.</summary>
internal sealed record BetweenRowsState
{
    public required PowerPoint? PendingFrom { get; init; }
    public required PowerPoint? PendingTo { get; init; }
    public required double OpeningW { get; init; }
    public required EnvelopeState Unseen { get; init; }
}

/// <summary>All that the trail of a counter holds.</summary>
internal sealed record TrailState
{
    public required bool IsUseless { get; init; }
    public required bool Settled { get; init; }
    public required long Rising { get; init; }
    public required double Before { get; init; }
    public required IReadOnlyList<CounterReading> Head { get; init; }
    public required IReadOnlyList<CounterReading> Waiting { get; init; }
    public required FoldState Fold { get; init; }
}

/// <summary>All that is kept of a counter's judged readings.</summary>
internal sealed record FoldState
{
    public required bool Seen { get; init; }
    public required CounterReading First { get; init; }
    public required CounterReading Last { get; init; }
    public required FaultTally Resets { get; init; }
    public required FaultTally Falls { get; init; }
    public required FaultTally Bad { get; init; }
    public required IReadOnlyList<GapAdvance> Gaps { get; init; }
    public required bool AfterDropped { get; init; }
    public required bool AfterDroppedGap { get; init; }
    public required int Exponent { get; init; }
    public required bool LastIsPinned { get; init; }
    public required int Count { get; init; }

    /// <summary>The readings kept, which stand in a table of their own.</summary>
    [JsonIgnore]
    public IReadOnlyList<CounterPoint> Points { get; init; } = [];
}
