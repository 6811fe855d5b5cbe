using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>A column that a model may have.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Name">Name for people.</param>
/// <param name="Unit">Unit of the column; empty for none.</param>
/// <param name="Of">The column's value for given factors.</param>
/// <param name="Factor">The factor that it refers to; offsets together count as the first of them.</param>
internal sealed record ModelColumn(string Id, string Name, string Unit, Func<RunFactors, double> Of, Factor Factor);

/// <summary>The columns that runs can carry: offsets and the square of the distance first, then the other factors.</summary>
internal static class ModelTerms
{
    public const string DistanceSquared = "distance-squared";
    public const string DistanceFourth = "distance-fourth";

    /// <summary>Columns in the order in which they are tried; the last resort, the fourth power, is <see cref="Fourth"/>.</summary>
    public static IReadOnlyList<ModelColumn> Of(IReadOnlyList<PlacedRun> runs)
    {
        var columns = new List<ModelColumn>();
        foreach (var factor in Enum.GetValues<Factor>().Where(f => f != Factor.Case && Varies(runs, f)))
        {
            columns.Add(new ModelColumn(StableName.Of(factor), FactorWords.Of(factor), RunFactors.UnitOf(factor), f => f.Of(factor)!.Value,
                factor));
        }

        int offsets = columns.Count(c => FactorWords.IsOffset(c.Factor));
        if (offsets > 0)
        {
            columns.Insert(offsets,
                new ModelColumn(DistanceSquared, "square of the distance from the middle", "mm\u00b2", f => SquareMm(f, runs),
                Factor.OffsetX));
        }

        if (Varies(runs, Factor.Case))
        {
            string most = MostFrequentCase(runs);
            columns.AddRange(runs.Select(r => r.Factors.Case!).Distinct().Where(c => c != most).Order(StringComparer.Ordinal)
                .Select(c => new ModelColumn($"case:{c}", $"case {c} in place of {most}", "", f => f.Case == c ? 1 : 0, Factor.Case)));
        }

        return columns;
    }

    /// <summary>The fourth power of the distance, for a rise that grows steeper than its square.</summary>
    public static ModelColumn Fourth(IReadOnlyList<PlacedRun> runs) =>
        new(DistanceFourth, "fourth power of the distance", "mm\u2074", f => SquareMm(f, runs) * SquareMm(f, runs), Factor.OffsetX);

    /// <summary>The case that most runs have.</summary>
    public static string MostFrequentCase(IReadOnlyList<PlacedRun> runs) =>
        runs.GroupBy(r => r.Factors.Case!).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).First().Key;

    /// <summary>Whether all runs give a factor, and not all the same value.</summary>
    public static bool Varies(IReadOnlyList<PlacedRun> runs, Factor factor) => runs.All(r => r.Factors.Has(factor))
        && (factor == Factor.Case
            ? runs.Select(r => r.Factors.Case).Distinct().Count()
            : runs.Select(r => r.Factors.Of(factor)).Distinct().Count()) > 1;

    // A direction that some runs do not give says nothing.
    private static double SquareMm(RunFactors f, IReadOnlyList<PlacedRun> runs)
    {
        double Along(Factor factor) => runs.All(r => r.Factors.Has(factor)) ? f.Of(factor) ?? 0 : 0;
        double x = Along(Factor.OffsetX), y = Along(Factor.OffsetY);
        return (x * x) + (y * y);
    }
}
