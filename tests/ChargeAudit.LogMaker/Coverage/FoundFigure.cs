using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Studies;

namespace ChargeAudit.LogMaker.Coverage;

/// <summary>What an evaluation says of one figure.</summary>
/// <param name="Figure">Which.</param>
/// <param name="Method">Name of the method.</param>
/// <param name="Place">Where.</param>
/// <param name="Value">The value; null where there is none.</param>
/// <param name="Low">Lower end of the 95 % interval; null where there is none. An end without a bound is infinite.</param>
/// <param name="High">Upper end.</param>
/// <param name="WhyNot">Why there is no value or no interval.</param>
public sealed record FoundFigure(FigureKind Figure, string Method, Place Place, double? Value, double? Low, double? High, string? WhyNot);

/// <summary>What an evaluation says of a study.</summary>
/// <param name="Figures">The figures it gives or withholds with a reason.</param>
/// <param name="Stopped">Why it stopped with no figure at all; null where it went through.</param>
public sealed record FoundStudy(IReadOnlyList<FoundFigure> Figures, string? Stopped)
{
    /// <summary>The charge that it took from each run's log. [s] since the first row</summary>
    public IReadOnlyList<(string File, double StartS, double EndS)> Charges { get; init; } = [];

    /// <summary>What it made of each log: file, and the modes with their times and powers.</summary>
    public IReadOnlyList<(string File, string Modes)> Logs { get; init; } = [];
}
