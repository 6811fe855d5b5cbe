using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Results;

/// <summary>Input power of a method's adapter over its load at one output voltage: input = fixed + perWatt · output + perSquare ·
/// current².</summary>
/// <param name="Method">Name of the method whose runs show it.</param>
/// <param name="OutV">Output voltage; zero where it was not logged. [V]</param>
/// <param name="Points">Number of steady stretches it rests on.</param>
/// <param name="LeastOutW">Least load seen. [W]</param>
/// <param name="GreatestOutW">Greatest load seen. [W]</param>
/// <param name="Fixed">What is lost whatever the load. [W]</param>
/// <param name="PerWatt">Input for each watt out. [1]</param>
/// <param name="PerSquare">Input for each square of the current. [Ω], or [1/W] where no voltage was logged</param>
/// <param name="Efficiencies">Efficiency over the loads seen, rising.</param>
/// <param name="Rated">Efficiency at 25, 50, 75 and 100 % of the rated output; empty where the study gives none.</param>
/// <param name="Average">Mean of those four. [1]</param>
/// <param name="Published">The published limits for such a mean, as information and not as a certificate.</param>
public sealed record AdapterCurveResult(
    string Method,
    double OutV,
    int Points,
    double LeastOutW,
    double GreatestOutW,
    Measured Fixed,
    Measured PerWatt,
    Measured PerSquare,
    IReadOnlyList<LoadEfficiency> Efficiencies,
    IReadOnlyList<RatedEfficiency> Rated,
    Figure Average,
    IReadOnlyList<YardstickFinding> Published);

/// <summary>Efficiency at a load.</summary>
/// <param name="OutW">Load. [W]</param>
/// <param name="Efficiency">Energy out divided by energy in, with the meters' errors. [1]</param>
public sealed record LoadEfficiency(double OutW, Figure Efficiency);

/// <summary>Efficiency at a share of the rated output.</summary>
/// <param name="SharePercent">The share. [%]</param>
/// <param name="OutW">The load. [W]</param>
/// <param name="Efficiency">Missing outside the loads seen. [1]</param>
public sealed record RatedEfficiency(int SharePercent, double OutW, Figure Efficiency)
{
    private static readonly int[] SharesPercent = [25, 50, 75, 100];

    /// <summary>The efficiencies at the four shares that published limits are about.</summary>
    /// <param name="ratedW">Rated output. [W]</param>
    /// <param name="efficiencyAt">Efficiency at a load. [W → 1]</param>
    internal static IReadOnlyList<RatedEfficiency> At(double ratedW, Func<double, Figure> efficiencyAt) =>
        [.. SharesPercent.Select(share => (share, outW: ratedW * share / 100))
            .Select(s => new RatedEfficiency(s.share, s.outW, efficiencyAt(s.outW)))];

    /// <summary>Mean of the four; missing where one of them is. Errors that they share stay shared. [1]</summary>
    /// <param name="rated">The efficiencies at the four shares; empty where the rated output is not given.</param>
    internal static Figure Average(IReadOnlyList<RatedEfficiency> rated) =>
        rated.Count == 0 ? Figure.None("the study does not give the adapter's rated output")
        : rated.FirstOrDefault(r => r.Efficiency.Value is null) is { } missing ? missing.Efficiency
        : Figure.Of(Measured.Combine(
            rated.Average(r => r.Efficiency.Value!.Value), "1", rated.Select(r => (1.0 / rated.Count, r.Efficiency.Value!))));
}
