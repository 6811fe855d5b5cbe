using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// How many standard uncertainties an interval reaches to either side. Normal components alone give the normal factor; one estimated
/// scatter alone gives Student's t;
/// rectangular, triangular and arcsine limits are folded in as they are, without drawing random numbers.
/// <para>Where a scatter estimated from few runs meets a part that is known, two rules are in use and neither is right: Student's t at the
/// effective degrees of freedom falls short when the few runs happened to agree, and the convolution with the full t reaches too far. The
/// factor here is their geometric mean, weighted by <see cref="WeightOfEffectiveFreedom"/>: with two runs the first rule would bring the
/// interval down to 92 % where the known part is a fifth of the scatter. The table in docs/uncertainty.md shows how often the interval
/// holds the truth.</para>
/// <i>Source:</i> JCGM 100:2008, G.4.1 (effective degrees of freedom); JCGM 101:2008, 6.4 (distributions).
/// </summary>
public static class CoverageFactor
{
    /// <summary>From this many degrees of freedom on, a scatter counts as known.</summary>
    internal const double AsGoodAsKnown = 1e6;

    private const double AlmostAll = 0.9999;

    /// <summary>
    /// Effective degrees of freedom by Welch–Satterthwaite. The formula needs independent inputs: sources are so by their definition, and
    /// those that were observed together
    /// are taken as one with the least of their degrees of freedom.
    /// </summary>
    /// <param name="components">Components of one figure, one per source.</param>
    /// <returns>Degrees of freedom; positive infinity where no component limits them. [1]</returns>
    public static double EffectiveDegreesOfFreedom(IReadOnlyCollection<UncertaintyComponent> components)
    {
        double variance = 0, sum = 0;
        Dictionary<string, (double Variance, double Dof)>? together = null;
        foreach (var c in components)
        {
            double v = c.Variance;
            variance += v;
            if (c.Source.ObservedTogether is { } group)
            {
                together ??= new(StringComparer.Ordinal);
                var known = together.GetValueOrDefault(group, (0, double.PositiveInfinity));
                together[group] = (known.Variance + v, Math.Min(known.Dof, c.Source.DegreesOfFreedom));
            }
            else
            {
                sum += v * v / c.Source.DegreesOfFreedom;
            }
        }

        sum += together?.Values.Sum(g => g.Variance * g.Variance / g.Dof) ?? 0;
        return sum == 0 ? double.PositiveInfinity : variance * variance / sum;
    }

    /// <summary>
    /// What to keep in mind about a figure's effective degrees of freedom, as a sentence; null where there is nothing: the formula of Welch
    /// and Satterthwaite needs independent
    /// inputs, and some of this figure's were observed together.
    /// </summary>
    /// <param name="figure">The figure.</param>
    public static string? Warning(Measured figure)
    {
        string[] groups = [
            .. figure.Components.Where(c => c.Source.ObservedTogether is not null && double.IsFinite(c.Source.DegreesOfFreedom))
            .GroupBy(c => c.Source.ObservedTogether!).Where(g => g.Count() > 1).Select(g => g.Key)];
        return groups.Length == 0
            ? null
            : "The degrees of freedom are approximate: the formula needs independent inputs, and those of "
                + $"{string.Join(", ", groups)} were observed together, so they count as one.";
    }

    /// <summary>The factor k: half-width of the symmetric interval divided by the combined standard uncertainty. [1]</summary>
    /// <param name="components">Components of one figure, one per source.</param>
    /// <param name="coverage">Probability of the interval, between 0 and 1. [1]</param>
    public static double Of(IReadOnlyCollection<UncertaintyComponent> components, double coverage)
    {
        double total = components.Sum(c => c.Variance);
        double normal = StudentDistribution.TwoSidedFactor(coverage, double.PositiveInfinity);
        if (total == 0)
        {
            return normal;
        }

        var estimated = components.Where(c => c.Source.DegreesOfFreedom < AsGoodAsKnown).ToList();
        double estimatedShare = estimated.Sum(c => c.Variance) / total;
        double ownDof = estimated.Count == 0 ? double.PositiveInfinity : EffectiveDegreesOfFreedom(estimated);
        if (estimatedShare > AlmostAll)
        {
            return StudentDistribution.TwoSidedFactor(coverage, ownDof);
        }

        var limits = components
            .Where(c => c.Source.Shape != ErrorShape.Normal && !(c.Source.DegreesOfFreedom < AsGoodAsKnown))
            .Select(c => new BoundedError(c.Source.Shape, Math.Abs(c.SignedStandardUncertainty) / Math.Sqrt(total)))
            .ToList();
        double limitShare = limits.Sum(l => l.StandardUncertainty * l.StandardUncertainty);
        double normalShare = Math.Max(0, 1 - estimatedShare - limitShare);

        double shaped = new ErrorConvolution(limits, Math.Sqrt(normalShare + estimatedShare), 0, double.PositiveInfinity).Factor(coverage);
        if (estimatedShare == 0)
        {
            return shaped;
        }

        double byEffectiveDof = shaped / normal * StudentDistribution.TwoSidedFactor(coverage, ownDof / (estimatedShare * estimatedShare));
        double byConvolution = new ErrorConvolution(limits, Math.Sqrt(normalShare), Math.Sqrt(estimatedShare), ownDof).Factor(coverage);
        double weight = WeightOfEffectiveFreedom(ownDof);
        return Math.Pow(byEffectiveDof, weight) * Math.Pow(byConvolution, 1 - weight);
    }

    /// <summary>
    /// Weight of the first rule: 0.15 with one degree of freedom, rising to a half. Chosen on normal scatter beside a rectangular or normal
    /// part of 0.1 to 10 times its size, by integrating over the estimate: the interval then holds at least 94.3 % everywhere.
    /// </summary>
    private static double WeightOfEffectiveFreedom(double degreesOfFreedom) => 0.5 - (0.35 / Math.Max(1, degreesOfFreedom));
}
