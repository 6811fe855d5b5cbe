using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Documents;

/// <summary>Everything found in one log.</summary>
internal sealed record LogDocument
{
    public required string File { get; init; }
    public required IReadOnlyList<LogFileDocument> Files { get; init; }
    public string? Point { get; init; }
    public string? PointReason { get; init; }
    public string? Meter { get; init; }
    public string? MeterReason { get; init; }
    public long Rows { get; init; }
    public long RowsSkipped { get; init; }
    public string? Format { get; init; }
    public DialectDocument? Dialect { get; init; }
    public string? DialectReason { get; init; }
    public IReadOnlyList<ColumnDocument>? Columns { get; init; }
    public TimeDocument? Time { get; init; }
    public required SamplingDocument Sampling { get; init; }

    /// <summary>By the quantity's name, in its coherent unit.</summary>
    public required IReadOnlyDictionary<string, double?> Resolution { get; init; }

    public IReadOnlyList<string>? Notes { get; init; }
    public string? PowerFrom { get; init; }
    public IReadOnlyList<FaultDocument>? Faults { get; init; }
    public MeasuredDocument? Energy { get; init; }
    public string? EnergyReason { get; init; }
    public MeasuredDocument? Charge { get; init; }
    public string? ChargeReason { get; init; }
    public MeasuredDocument? Duration { get; init; }
    public string? DurationReason { get; init; }
    public MeasuredDocument? MeanPower { get; init; }
    public string? MeanPowerReason { get; init; }
    public required MeasuredDocument? PeakPower { get; init; }
    public string? PeakPowerReason { get; init; }
    public MeasuredDocument? CounterEnergy { get; init; }
    public string? CounterEnergyReason { get; init; }
    public IReadOnlyList<SessionDocument>? Sessions { get; init; }
    public IReadOnlyList<ModeDocument>? Modes { get; init; }
    public IReadOnlyList<string>? Doubts { get; init; }

    /// <summary>One for each doubt, in the same order; absent from documents that earlier versions wrote.</summary>
    public IReadOnlyList<string>? DoubtGravities { get; init; }
}

/// <summary>One of a log's files.</summary>
internal sealed record LogFileDocument
{
    public required string Name { get; init; }
    public required string Sha256 { get; init; }
}

/// <summary>How delimited text was read.</summary>
internal sealed record DialectDocument(
    string Encoding, string Separator, string DecimalSeparator, long? HeaderLine, string? HeaderLineReason, long FirstDataLine);

/// <summary>What a column was taken for.</summary>
internal sealed record ColumnDocument(
    int Position,
    string Header,
    string Quantity,
    string Unit,
    double? Factor,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? Offset,
    string Why);

/// <summary>How a log tells the time.</summary>
internal sealed record TimeDocument(string Form, DateTimeOffset? Start, string? StartReason, bool StartIsLocal);

/// <summary>How a log was sampled.</summary>
internal sealed record SamplingDocument
{
    public required double? MedianInterval { get; init; }
    public string? Kind { get; init; }
    public string? Why { get; init; }
    public double? GapThreshold { get; init; }
}

/// <summary>All faults of one kind in a log.</summary>
internal sealed record FaultDocument(
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? File,
    string Kind,
    long? Line,
    string? LineReason,
    long? LastLine,
    long Count,
    string Detail);

/// <summary>A charge found in a log.</summary>
internal sealed record SessionDocument(
    double? Start,
    double? End,
    DateTimeOffset? StartTime,
    string? StartTimeReason,
    MeasuredDocument? Energy,
    string? EnergyReason,
    MeasuredDocument? Duration,
    string? DurationReason,
    MeasuredDocument? MaintenanceDuration,
    string? MaintenanceDurationReason);

/// <summary>A stretch of one mode.</summary>
internal sealed record ModeDocument(
    string Mode,
    double? Start,
    double? End,
    DateTimeOffset? StartTime,
    string? StartTimeReason,
    double? StartU,
    double? EndU,
    MeasuredDocument? Energy,
    string? EnergyReason,
    MeasuredDocument? Duration,
    string? DurationReason,
    MeasuredDocument? MeanPower,
    string? MeanPowerReason,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? CorrectionWh,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? PowerFactor,
    IReadOnlyList<DetailDocument> Details);

/// <summary>A part of a charge, or a burst.</summary>
internal sealed record DetailDocument(string Kind, double? Start, double? End, double? MeanPowerW);
