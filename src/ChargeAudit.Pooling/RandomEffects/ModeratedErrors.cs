using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// Replaces the scatter that few runs showed by the moderated one, source by source, so that chance agreement of three runs carries no
/// mean. The scatter of a single run is taken to be alike from audit to audit as far as the figures allow.
/// </summary>
public static class ModeratedErrors
{
    /// <summary>Fewer scatters than this say nothing of what they have in common.</summary>
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
                * s.Average(c => c.SignedStandardUncertainty * c.SignedStandardUncertainty))];
            var moderated = ModeratedVariance.Of(ofRun, dof);
            for (int i = 0; i < family.Count; i++)
            {
                var (variance, freedom) = moderated.Apply(ofRun[i], dof[i]);

                // What is to be expected of the true variance, given so many degrees of freedom: the mean of its inverse χ².
                double expected = double.IsInfinity(freedom) ? 1 : freedom / Math.Max(freedom - 2, 0.5 * freedom);
                post[family[i].Key] = (expected * variance / (dof[i] + 1), freedom);
            }
        }

        return [.. figures.Select(f => Measured.From(f.Value, f.Unit, f.Components.Select(c => Moderated(c, post)), f.UnknownBecause))];
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
