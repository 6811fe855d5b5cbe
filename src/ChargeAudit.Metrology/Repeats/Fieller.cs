using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>
/// Fieller's set for a ratio of two estimates: all ρ with (a − ρb)² ≤ t²(v_a − 2ρc + ρ²v_b). Exact where a and b are jointly normal, unlike
/// an interval by
/// linear propagation. <i>Source:</i> E. C. Fieller, J. Royal Statistical Society B 16 (1954) 175–185; NIST Dataplot, RATIO OF MEANS
/// CONFIDENCE INTERVAL.
/// </summary>
public static class Fieller
{
    private const double Rounding = 1e-14;

    /// <summary>The set from two figures, correlated through the sources they share.</summary>
    /// <param name="a">Numerator.</param>
    /// <param name="b">Denominator, of the same unit.</param>
    /// <param name="k">Coverage factor: how many standard uncertainties a − ρb may lie from zero. [1]</param>
    public static RatioSet Of(Measured a, Measured b, double k) =>
        Of(a.Value, Measured.Covariance(a, a), b.Value, Measured.Covariance(b, b), Measured.Covariance(a, b), k);

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

        // Where hardly any variance is left, rounding alone makes it negative.
        if (discriminant < 0 && discriminant > -Rounding * qb * qb)
        {
            discriminant = 0;
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
}
