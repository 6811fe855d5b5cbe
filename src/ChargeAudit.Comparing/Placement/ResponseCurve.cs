using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>What one factor changes, the other factors as they were in those runs. Immutable.</summary>
/// <param name="Factor">The factor.</param>
/// <param name="Levels">Its levels in order.</param>
/// <param name="Line">The fitted curve at places from the least level to the greatest; empty for a case, or where there are too few
/// levels.</param>
/// <param name="Order">Order of the fitted curve: 1 a straight line, 2 a parabola; 0 none. [1]</param>
/// <param name="Caution">Which factors changed together with it, as a sentence; null where none did.</param>
public sealed record ResponseCurve(Factor Factor, IReadOnlyList<FactorLevel> Levels, IReadOnlyList<(double Value, Measured Shown)> Line,
    int Order, string? Caution);

/// <summary>One level of a factor.</summary>
/// <param name="Value">Its value, in the factor's unit; null for a case.</param>
/// <param name="Name">Its name for people: <c>4 mm</c>, <c>silicone</c>.</param>
/// <param name="Runs">Ids of the runs at it.</param>
/// <param name="Shown">Mean of the map's figure.</param>
public sealed record FactorLevel(double? Value, string Name, IReadOnlyList<string> Runs, Measured Shown);
