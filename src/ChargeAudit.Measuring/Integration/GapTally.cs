using System.Text.Json.Serialization;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>A stretch without readings.</summary>
/// <param name="FromS">Time of the row before. [s]</param>
/// <param name="ToS">Time of the row after. [s]</param>
/// <param name="Line">Line of the row after.</param>
/// <param name="EnergyJ">Energy that was put in for it; zero where gaps are left out. [J]</param>
/// <param name="FromCounter">Whether that energy is the counter's difference.</param>
public readonly record struct GapRecord(double FromS, double ToS, long Line, double EnergyJ, bool FromCounter)
{
    /// <summary>Length. [s]</summary>
    public double LengthS => ToS - FromS;

    /// <summary>Energy of the bridge between its ends, whatever was put in. [J]</summary>
    public double BridgeJ { get; init; }

    /// <summary>The counter's advance over it; NaN where there is none that can be used. [J]</summary>
    public double CounterJ { get; init; } = double.NaN;

    /// <summary>Whether counter and bridge differ by more than both allow.</summary>
    public bool Contradicts { get; init; }

    /// <summary>Power of the bridge at its start. [W]</summary>
    [JsonInclude]
    internal double FromW { get; init; }

    /// <summary>Power of the bridge at its end. [W]</summary>
    [JsonInclude]
    internal double ToW { get; init; }

    /// <summary>Mean current of the bridge. [A]</summary>
    [JsonInclude]
    internal double MeanA { get; init; }
}

/// <summary>
/// All gaps of a log in bounded memory: the longest ones by themselves, the others as sums from which the uncertainty of their bridges
/// follows.
/// </summary>
public sealed record GapTally
{
    /// <summary>How many gaps are kept by themselves.</summary>
    public const int Kept = 64;

    /// <summary>The longest gaps, in order of time.</summary>
    [JsonInclude]
    public IReadOnlyList<GapRecord> Longest { get; internal init; } = [];

    /// <summary>How many gaps there are in all.</summary>
    [JsonInclude]
    public long Count { get; internal init; }

    /// <summary>Their time in all. [s]</summary>
    public double TotalS => Time.Value;

    /// <summary>Σ length² of those not kept by themselves. [s²]</summary>
    public double OtherSquaredS => OtherSquares.Value;

    /// <summary>Σ length × energy of those. [J·s]</summary>
    public double OtherEnergySeconds => OtherProducts.Value;

    /// <summary>Σ energy² of those. [J²]</summary>
    public double OtherSquaredJ => OtherEnergies.Value;

    /// <summary>Sum of the lengths. [s]</summary>
    [JsonInclude]
    internal CompensatedSum Time { get; init; }

    /// <summary>Sum of length² of those not kept by themselves. [s²]</summary>
    [JsonInclude]
    internal CompensatedSum OtherSquares { get; init; }

    /// <summary>Sum of length × energy of those. [J·s]</summary>
    [JsonInclude]
    internal CompensatedSum OtherProducts { get; init; }

    /// <summary>Sum of energy² of those. [J²]</summary>
    [JsonInclude]
    internal CompensatedSum OtherEnergies { get; init; }

    /// <summary>No gaps.</summary>
    public static GapTally Empty { get; } = new();

    /// <summary>The tally with one more gap.</summary>
    public GapTally Plus(GapRecord gap) => Trimmed(Longest.Append(gap)) with { Count = Count + 1, Time = Time + gap.LengthS };

    /// <summary>The tally with the same gaps, their energies chosen.</summary>
    internal GapTally With(IReadOnlyList<GapRecord> longest) => this with { Longest = longest };

    /// <summary>Both tallies.</summary>
    public static GapTally Join(GapTally a, GapTally b)
    {
        if (a.Count == 0 || b.Count == 0)
        {
            return a.Count == 0 ? b : a;
        }

        var joined = a with
        {
            OtherSquares = a.OtherSquares + b.OtherSquares,
            OtherProducts = a.OtherProducts + b.OtherProducts,
            OtherEnergies = a.OtherEnergies + b.OtherEnergies,
        };
        return joined.Trimmed(a.Longest.Concat(b.Longest)) with { Count = a.Count + b.Count, Time = a.Time + b.Time };
    }

    private GapTally Trimmed(IEnumerable<GapRecord> gaps)
    {
        var all = gaps.OrderByDescending(g => g.LengthS).ThenBy(g => g.FromS).ToList();
        var others = all.Skip(Kept).ToList();
        return this with
        {
            Longest = [.. all.Take(Kept).OrderBy(g => g.FromS)],
            OtherSquares = others.Aggregate(OtherSquares, (sum, g) => sum + (g.LengthS * g.LengthS)),
            OtherProducts = others.Aggregate(OtherProducts, (sum, g) => sum + (g.LengthS * g.EnergyJ)),
            OtherEnergies = others.Aggregate(OtherEnergies, (sum, g) => sum + (g.EnergyJ * g.EnergyJ)),
        };
    }
}
