using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// Replaces the scatter that few runs showed by the moderated one, source by source, so that three runs that agree by chance do not carry
/// the mean. The scatter of a single run is taken to be alike from audit to audit as far as the figures allow.
/// </summary>
public static class ModeratedErrors
{
    /// <summary>Fewer scatters than this say nothing about what they have in common.</summary>
    private const int Least = 3;

    /// <summary>The figures with moderated scatters.</summary>
    /// <param name="figures">Figures of one unit.</param>
    public static IReadOnlyList<Measured> Of(IReadOnlyList<Measured> figures)
    {
        var post = new Dictionary<InfluenceSource, (double Variance, double DegreesOfFreedom)>();
        var seen = figures.SelectMany(f => f.Components).Where(IsScatter).GroupBy(c => c.Source);

        // The wired and the inductive side are told apart by the sign of their effect: the reference stands below the line.
        foreach (var family in seen.GroupBy(s => s.First().SignedStandardUncertainty >= 0).Select(f => f.ToList()))
        {
            if (family.Count < Least)
            {
                continue;
            }

            double[] dof = [.. family.Select(s => s.Key.DegreesOfFreedom)];
            double[] ofRun = [.. family.Select(s => (s.Key.DegreesOfFreedom + 1)
                * s.Average(c => c.Variance))];
            var moderated = ModeratedVariance.Of(ofRun, dof);
            var expected = ofRun.Zip(dof, (v, d) => Expected(moderated.Apply(v, d))).ToList();

            // The expected variances add up to too much where few runs tell how much they differ. So their total stays what the runs
            // showed, which is right on average, and moderation only shares it out: errors that are too great would leave too little
            // spread.
            double shown = ofRun.Zip(dof, (v, d) => v / (d + 1)).Sum(), shared = expected.Zip(dof, (e, d) => e.Variance / (d + 1)).Sum();
            for (int i = 0; i < family.Count; i++)
            {
                double factor = shared > 0 ? shown / shared : 1;
                post[family[i].Key] = (factor * expected[i].Variance / (dof[i] + 1), expected[i].DegreesOfFreedom);
            }
        }

        return [.. figures.Select(f => Measured.From(f.Value, f.Unit, f.Components.Select(c => Moderated(c, post)), f.UnknownBecause))];
    }

    /// <summary>
    /// Degrees of freedom of the common size of all scatters, by Welch and Satterthwaite for a sum of estimated variances; positive
    /// infinity where there is none. [1]
    /// </summary>
    /// <param name="figures">Figures of one unit, before their scatters are moderated.</param>
    public static double DegreesOfFreedomOfSize(IReadOnlyList<Measured> figures)
    {
        double sum = 0, squares = 0;
        foreach (var source in figures.SelectMany(f => f.Components).Where(IsScatter).GroupBy(c => c.Source))
        {
            double v = source.Average(c => c.Variance);

            // The square of an estimated variance is on average (1 + 2/d) times that of the true one.
            sum += v;
            squares += v * v / (source.Key.DegreesOfFreedom + 2);
        }

        return squares > 0 ? sum * sum / squares : double.PositiveInfinity;
    }

    /// <summary>The figures with all scatters of another size.</summary>
    /// <param name="figures">Figures.</param>
    /// <param name="factor">What the variances of the scatters are multiplied by. [1]</param>
    public static IReadOnlyList<Measured> WithSize(IReadOnlyList<Measured> figures, double factor) =>
        [.. figures.Select(f => Measured.From(f.Value, f.Unit, f.Components.Select(c => !IsScatter(c) ? c
            : c with { SignedStandardUncertainty = Math.Sqrt(factor) * c.SignedStandardUncertainty }), f.UnknownBecause))];

    // What is to be expected of the true variance, given this many degrees of freedom: the mean of its inverse χ².
    private static (double Variance, double DegreesOfFreedom) Expected((double Variance, double DegreesOfFreedom) moderated)
    {
        double freedom = moderated.DegreesOfFreedom;
        return double.IsInfinity(freedom) ? moderated : (freedom / Math.Max(freedom - 2, 0.5 * freedom) * moderated.Variance, freedom);
    }

    private static bool IsScatter(UncertaintyComponent c) => c.Source.Kind == SourceKind.Repeatability
        && double.IsFinite(c.Source.DegreesOfFreedom);

    private static UncertaintyComponent Moderated(UncertaintyComponent c,
        Dictionary<InfluenceSource, (double Variance, double DegreesOfFreedom)> post) =>
        IsScatter(c) && post.TryGetValue(c.Source, out var moderated)
            ? new UncertaintyComponent(
                c.Source with { DegreesOfFreedom = moderated.DegreesOfFreedom }, (c.SignedStandardUncertainty < 0 ? -1 : 1)
                    * Math.Sqrt(moderated.Variance))
            : c;
}
