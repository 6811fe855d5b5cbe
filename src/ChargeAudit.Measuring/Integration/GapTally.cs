using System.Text.Json.Serialization;

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
    [JsonInclude]
    public double TotalS { get; internal init; }

    /// <summary>Σ length² of those not kept by themselves. [s²]</summary>
    [JsonInclude]
    public double OtherSquaredS { get; internal init; }

    /// <summary>Σ length × energy of those. [J·s]</summary>
    [JsonInclude]
    public double OtherEnergySeconds { get; internal init; }

    /// <summary>Σ energy² of those. [J²]</summary>
    [JsonInclude]
    public double OtherSquaredJ { get; internal init; }

    /// <summary>No gaps.</summary>
    public static GapTally Empty { get; } = new();

    /// <summary>The tally with one more gap.</summary>
    public GapTally Plus(GapRecord gap) => Trimmed(Longest.Append(gap)) with { Count = Count + 1, TotalS = TotalS + gap.LengthS };

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
            OtherSquaredS = a.OtherSquaredS + b.OtherSquaredS,
            OtherEnergySeconds = a.OtherEnergySeconds + b.OtherEnergySeconds,
            OtherSquaredJ = a.OtherSquaredJ + b.OtherSquaredJ,
        };
        return joined.Trimmed(a.Longest.Concat(b.Longest)) with { Count = a.Count + b.Count, TotalS = a.TotalS + b.TotalS };
    }

    private GapTally Trimmed(IEnumerable<GapRecord> gaps)
    {
        var all = gaps.OrderByDescending(g => g.LengthS).ThenBy(g => g.FromS).ToList();
        var others = all.Skip(Kept).ToList();
        return this with
        {
            Longest = [.. all.Take(Kept).OrderBy(g => g.FromS)],
            OtherSquaredS = OtherSquaredS + others.Sum(g => g.LengthS * g.LengthS),
            OtherEnergySeconds = OtherEnergySeconds + others.Sum(g => g.LengthS * g.EnergyJ),
            OtherSquaredJ = OtherSquaredJ + others.Sum(g => g.EnergyJ * g.EnergyJ),
        };
    }
}
