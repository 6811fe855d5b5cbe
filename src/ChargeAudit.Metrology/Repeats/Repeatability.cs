using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>
/// Joins the uncertainty of the measurement with the scatter between runs, without counting the same scatter twice. What the runs have in
/// common (a meter's gain) does not show
/// in their scatter and is added to it. What each run has for itself (its noise, its gaps) is in the scatter already, and gives way to it;
/// the scatter is
/// never taken for smaller than what is known about that part. <i>Source:</i> JCGM 100:2008, 4.2 (Type A), 4.3.10 (no double-counting), 5.2
/// (correlated inputs).
/// </summary>
public static class Repeatability
{
    /// <summary>Said about a figure that rests on a single run.</summary>
    public const string OneRunOnly =
        "There is one run only: how far a second one would differ is not known, and the interval covers the measurement alone.";

    /// <summary>The mean of runs.</summary>
    /// <param name="runs">Runs of one unit, at least one.</param>
    /// <param name="scatter">The scatter between runs as a source, such as <see cref="InfluenceSource.ScatterOf"/> a method.</param>
    /// <param name="blocks">The block (day, set-up) that each run was made in; null: it was not stated, and each run counts as a block of
    /// its own. In blocks the mean is that of the blocks' means, and with one block the scatter is that within it.</param>
    /// <exception cref="ArgumentException">There is no run, or the units differ.</exception>
    public static MeanOfRuns Combine(IReadOnlyList<Measured> runs, InfluenceSource scatter, IReadOnlyList<string>? blocks = null)
    {
        int n = runs.Count;
        if (n == 0)
        {
            throw new ArgumentException("a mean needs at least one run", nameof(runs));
        }

        if (runs.Any(r => r.Unit != runs[0].Unit))
        {
            throw new ArgumentException("runs of different units have no mean", nameof(runs));
        }

        if (n == 1)
        {
            return new MeanOfRuns(runs[0], 1, null, OneRunOnly);
        }

        var sample = SampleStatistics.Of(runs.Select(r => r.Value).ToArray());
        var grouped = blocks is null ? null : BlockScatter.Of([.. runs.Select(r => r.Value)], blocks);
        double mean = grouped?.Mean ?? sample.Mean;
        var whole = Measured.Combine(mean, runs[0].Unit, runs.Select((r, i) => (grouped?.Weights[i] ?? 1.0 / n, r)));

        // A source of one run alone that another study would not meet again is that run's own.
        var seen = runs.SelectMany(r => r.Components).GroupBy(c => c.Source).ToDictionary(g => g.Key, g => g.Count());
        var common = whole.Components.Where(c => c.Source.Shared || seen[c.Source] > 1).ToList();
        double ownVariance = whole.Components.Sum(c => c.Variance) - common.Sum(c => c.Variance);
        double scatterU = Math.Sqrt(Math.Max(grouped?.VarianceOfMean ?? sample.VarianceOfMean, Math.Max(0, ownVariance)));

        bool several = grouped is { Blocks: > 1 };
        var source = scatter with
        {
            DegreesOfFreedom = grouped?.DegreesOfFreedom ?? n - 1,
            Observations = several ? grouped!.Blocks : n,
            InBlocks = several,
        };
        common.Add(new UncertaintyComponent(source, scatterU));
        return new MeanOfRuns(Measured.From(mean, runs[0].Unit, common, whole.UnknownBecause), n, sample.StandardDeviation, null)
        {
            Blocks = grouped,
        };
    }
}
