using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Documents;

/// <summary>A way of charging.</summary>
internal sealed record MethodDocument
{
    public required string Name { get; init; }
    public required string Kind { get; init; }
    public required IReadOnlyList<RunDocument> Runs { get; init; }
    public required MethodPointsDocument Points { get; init; }
    public YearDocument? Yearly { get; init; }
    public CoilsOfMethodDocument? Coils { get; init; }
    public string? CoilsReason { get; init; }
}

/// <summary>A method's figures at each measuring point.</summary>
internal sealed record MethodPointsDocument
{
    public PointDocument? Wall { get; init; }
    public string? WallReason { get; init; }
    public PointDocument? Usb { get; init; }
    public string? UsbReason { get; init; }
    public PointDocument? Device { get; init; }
    public string? DeviceReason { get; init; }
    public PointDocument? Battery { get; init; }
    public string? BatteryReason { get; init; }
}

/// <summary>A method's figures at one point.</summary>
internal sealed record PointDocument
{
    public required MeasuredDocument? EnergyPerCharge { get; init; }
    public string? EnergyPerChargeReason { get; init; }
    public IReadOnlyList<double>? RunEnergiesWh { get; init; }
    public double? ChargeDurationS { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public BlocksDocument? Blocks { get; init; }

    public required MeasuredDocument? MaintenancePower { get; init; }
    public string? MaintenancePowerReason { get; init; }
    public required MeasuredDocument? NoLoadPower { get; init; }
    public string? NoLoadPowerReason { get; init; }
    public IReadOnlyList<string>? StandbyNotes { get; init; }
}

/// <summary>Scatter of the energies of a charge within and between blocks of runs, as standard deviations. [Wh]</summary>
internal sealed record BlocksDocument(int Count, double? WithinWh, string? WithinWhReason, double? BetweenWh, string? BetweenWhReason);

/// <summary>One charge.</summary>
internal sealed record RunDocument
{
    public required string Id { get; init; }
    public DateTimeOffset? Start { get; init; }
    public string? StartReason { get; init; }
    public required bool Excluded { get; init; }
    public string? ExcludedReason { get; init; }
    public required double? StartChargePercent { get; init; }
    public string? StartChargePercentReason { get; init; }
    public required double? EndChargePercent { get; init; }
    public string? EndChargePercentReason { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Block { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public FactorsDocument? Factors { get; init; }

    public double? TemperatureC { get; init; }
    public string? TemperatureCReason { get; init; }
    public string? Adapter { get; init; }
    public string? AdapterReason { get; init; }
    public IReadOnlyList<ClockDocument>? Clocks { get; init; }

    /// <summary>By the point's name.</summary>
    public required IReadOnlyDictionary<string, RunPointDocument> Points { get; init; }
}

/// <summary>What was set for a run; each null where it was not.</summary>
internal sealed record FactorsDocument(
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? OffsetXMm,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? OffsetYMm,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? GapMm,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? RotationDeg,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? PowerLevelW,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? TemperatureC,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Case);

/// <summary>How a meter's clock compares with another's.</summary>
internal sealed record ClockDocument(string Point, string Against, MeasuredDocument? Ahead, string? AheadReason, bool Applied);

/// <summary>A run at one point.</summary>
internal sealed record RunPointDocument
{
    public MeasuredDocument? Energy { get; init; }
    public string? EnergyReason { get; init; }
    public required SpanDocument Charge { get; init; }
    public MeasuredDocument? MaintenancePower { get; init; }
    public string? MaintenancePowerReason { get; init; }
    public required string? Meter { get; init; }
    public string? MeterReason { get; init; }
    public required IReadOnlyList<string> Files { get; init; }
}

/// <summary>A stretch of a log, in seconds from its first sample.</summary>
internal sealed record SpanDocument
{
    public required double? Start { get; init; }
    public required double? End { get; init; }
    public DateTimeOffset? StartTime { get; init; }
    public string? StartTimeReason { get; init; }
}

/// <summary>A pad's measured efficiency beside its coils' best.</summary>
internal sealed record CoilsOfMethodDocument(
    double? Coupling,
    double? FigureOfMerit,
    double? PossibleEfficiency,
    MeasuredDocument? MeasuredEfficiency,
    string? MeasuredEfficiencyReason,
    MeasuredDocument? CoilLoss,
    string? CoilLossReason,
    MeasuredDocument? Rest,
    string? RestReason,
    bool Contradicts);
