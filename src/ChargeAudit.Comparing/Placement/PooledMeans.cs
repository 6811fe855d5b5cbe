using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// Means of groups of runs, such as those at one position. The scatter is taken to be one and the same share of the value in all groups and
/// is pooled over those that hold more than one run, since two runs alone tell almost nothing about it. What the runs have in common (a
/// meter's gain) does not show in their scatter and is added to it. <i>Source:</i> JCGM 100:2008, 4.2.4 (pooled estimate of variance).
/// </summary>
internal static class PooledMeans
{
    /// <summary>One mean for each group. Where no group holds two runs the scatter is not known and the means carry the measurement
    /// alone.</summary>
    /// <param name="groups">The groups, none empty, all of one unit.</param>
    /// <param name="source">The scatter as a source; each group has its own below it.</param>
    public static IReadOnlyList<Measured> Of(IReadOnlyList<IReadOnlyList<Measured>> groups, InfluenceSource source)
    {
        double squares = 0;
        int dof = 0;
        foreach (var group in groups.Where(g => g.Count > 1))
        {
            var sample = SampleStatistics.Of(group.Select(m => m.Value).ToArray());
            squares += (group.Count - 1) * sample.Variance / (sample.Mean * sample.Mean);
            dof += group.Count - 1;
        }

        double? scatter = dof > 0 ? Math.Sqrt(squares / dof) : null;
        var seen = groups.SelectMany(g => g).SelectMany(m => m.Components).GroupBy(c => c.Source).ToDictionary(g => g.Key, g => g.Count());
        return [.. groups.Select((g, i) => Mean(g, scatter, dof, seen, source, i))];
    }

    private static Measured Mean(
        IReadOnlyList<Measured> group, double? scatter, int dof, Dictionary<InfluenceSource, int> seen, InfluenceSource source, int index)
    {
        double mean = group.Average(m => m.Value);
        var whole = Measured.Combine(mean, group[0].Unit, group.Select(m => (1.0 / group.Count, m)));
        if (scatter is not { } s)
        {
            return whole;
        }

        var common = whole.Components.Where(c => c.Source.Shared || seen[c.Source] > 1).ToList();
        double own = whole.Components.Sum(c => c.Variance) - common.Sum(c => c.Variance);
        double u = Math.Sqrt(Math.Max(s * s * mean * mean / group.Count, Math.Max(0, own)));
        common.Add(new UncertaintyComponent(
            source with
            {
                Part = InvariantText.Of($"{source.Part}/{index + 1}"),
                DegreesOfFreedom = dof,
                ObservedTogether = source.Id,
                Observations = dof + 1,
            }, u));
        return Measured.From(mean, group[0].Unit, common, whole.UnknownBecause);
    }
}
