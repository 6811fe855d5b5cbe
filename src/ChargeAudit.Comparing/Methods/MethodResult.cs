using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Methods;

/// <summary>One way of charging, over all its runs.</summary>
public sealed record MethodResult
{
    /// <summary>Its name in the study.</summary>
    public required string Name { get; init; }

    /// <summary>By cable or on a pad.</summary>
    public required MethodKind Kind { get; init; }

    /// <summary>All runs, including those left out.</summary>
    public required IReadOnlyList<RunResult> Runs { get; init; }

    /// <summary>Figures at each measuring point.</summary>
    public required IReadOnlyDictionary<MeasuringPoint, PointResult> Points { get; init; }

    /// <summary>A year at the wall.</summary>
    public required YearResult Yearly { get; init; }

    /// <summary>The pad's measured efficiency beside what its coils allow; null where the study says nothing about the coils.</summary>
    public CoilsResult? Coils { get; init; }
}
