namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Fieller's set for a ratio of two estimates: all ρ with (a − ρb)² ≤ t²(v_a − 2ρc + ρ²v_b). Exact where a and b are jointly normal, unlike
/// an interval by
/// linear propagation. <i>Source:</i> E. C. Fieller, J. Royal Statistical Society B 16 (1954) 175–185; NIST Dataplot, RATIO OF MEANS
/// CONFIDENCE INTERVAL.
/// </summary>
public static class Fieller
{
    /// <summary>The set from estimates.</summary>
    /// <param name="a">Numerator.</param>
    /// <param name="varianceA">Its variance.</param>
    /// <param name="b">Denominator.</param>
    /// <param name="varianceB">Its variance.</param>
    /// <param name="covariance">Their covariance; zero where independent.</param>
    /// <param name="t">Quantile of Student's t (two-sided) for the coverage wanted. [1]</param>
    public static RatioSet Of(double a, double varianceA, double b, double varianceB, double covariance, double t)
    {
        double tt = t * t;
        double qa = (b * b) - (tt * varianceB);
        double qb = (a * b) - (tt * covariance);
        double qc = (a * a) - (tt * varianceA);
        double ratio = a / b;
        double g = tt * varianceB / (b * b);
        double discriminant = (qb * qb) - (qa * qc);
        if (qa == 0)
        {
            // The limit between the cases: one end has gone to infinity.
            double end = 0.5 * qc / qb;
            return qb == 0 ? new RatioSet.WholeLine(ratio, g)
                : qb > 0 ? new RatioSet.Exclusive(ratio, g, double.NegativeInfinity, end)
                : new RatioSet.Exclusive(ratio, g, end, double.PositiveInfinity);
        }

        if (discriminant < 0)
        {
            return new RatioSet.WholeLine(ratio, g);
        }

        double root = Math.Sqrt(discriminant);
        double first = (qb - root) / qa, second = (qb + root) / qa;
        double low = Math.Min(first, second), high = Math.Max(first, second);
        return qa > 0 ? new RatioSet.Bounded(ratio, g, low, high) : new RatioSet.Exclusive(ratio, g, low, high);
    }

    /// <summary>The set from two independent samples whose scatters may differ; degrees of freedom by Satterthwaite at the ratio
    /// found.</summary>
    /// <param name="numerator">Sample above the line.</param>
    /// <param name="denominator">Sample below the line.</param>
    /// <param name="coverage">Probability that the set holds the true ratio, 0 to 1. [1]</param>
    public static RatioSet OfSamples(SampleStatistics numerator, SampleStatistics denominator, double coverage)
    {
        double dof = RatioTest.Against(numerator, denominator, numerator.Mean / denominator.Mean).DegreesOfFreedom;
        return Of(numerator, denominator, StudentDistribution.TwoSidedFactor(coverage, dof), numerator.Variance, denominator.Variance);
    }

    /// <summary>The set from two independent samples of one and the same scatter.</summary>
    /// <inheritdoc cref="OfSamples"/>
    public static RatioSet OfSamplesWithOneScatter(SampleStatistics numerator, SampleStatistics denominator, double coverage)
    {
        double dof = numerator.DegreesOfFreedom + denominator.DegreesOfFreedom;
        double variance = ((numerator.DegreesOfFreedom * numerator.Variance) + (denominator.DegreesOfFreedom * denominator.Variance)) / dof;
        return Of(numerator, denominator, StudentDistribution.TwoSidedFactor(coverage, dof), variance, variance);
    }

    /// <summary>The set from pairs: numerator and denominator of one place were measured together.</summary>
    /// <param name="numerators">Values above the line.</param>
    /// <param name="denominators">Values below the line, as many.</param>
    /// <param name="coverage">Probability that the set holds the true ratio, 0 to 1. [1]</param>
    /// <exception cref="ArgumentException">The series differ in length.</exception>
    public static RatioSet OfPairs(ReadOnlySpan<double> numerators, ReadOnlySpan<double> denominators, double coverage)
    {
        if (numerators.Length != denominators.Length)
        {
            throw new ArgumentException($"pairs need series of one length, not {numerators.Length} and {denominators.Length}", nameof(denominators));
        }

        var a = SampleStatistics.Of(numerators);
        var b = SampleStatistics.Of(denominators);
        var products = default(CompensatedSum);
        for (int i = 0; i < numerators.Length; i++)
        {
            products += (numerators[i] - a.Mean) * (denominators[i] - b.Mean);
        }

        double covariance = products.Value / (numerators.Length - 1) / numerators.Length;
        double t = StudentDistribution.TwoSidedFactor(coverage, numerators.Length - 1);
        return Of(a.Mean, a.VarianceOfMean, b.Mean, b.VarianceOfMean, covariance, t);
    }

    private static RatioSet Of(SampleStatistics a, SampleStatistics b, double t, double varianceA, double varianceB) =>
        Of(a.Mean, varianceA / a.Count, b.Mean, varianceB / b.Count, 0, t);
}
