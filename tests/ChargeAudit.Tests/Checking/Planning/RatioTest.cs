using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Tests.Checking.Planning;

/// <summary>
/// Whether the ratio of two means lies below (or above) a limit, without dividing: T = (x̄ − ρ₀ȳ)/√(s²ₓ/nₓ + ρ₀²s²ᵧ/nᵧ).
/// <i>Source:</i> A. C. Tamhane and B. R. Logan, Biometrical Journal 46 (2004), test of a ratio with unequal scatters.
/// </summary>
/// <param name="T">Student's t against the limit. [1]</param>
/// <param name="DegreesOfFreedom">By Satterthwaite, at the limit. [1]</param>
internal sealed record RatioTest(double T, double DegreesOfFreedom)
{
    /// <summary>Probability of so small a T if the ratio were at the limit or above: small shows that the ratio lies below. [1]</summary>
    public double PBelow => StudentDistribution.UpperTail(-T, DegreesOfFreedom);

    /// <summary>Probability of so great a T if the ratio were at the limit or below: small shows that the ratio lies above. [1]</summary>
    public double PAbove => StudentDistribution.UpperTail(T, DegreesOfFreedom);

    /// <summary>Tests the ratio of two independent samples' means.</summary>
    /// <param name="numerator">Sample above the line.</param>
    /// <param name="denominator">Sample below the line; its true mean is greater than zero.</param>
    /// <param name="limit">The ratio ρ₀ tested against. [1]</param>
    public static RatioTest Against(SampleStatistics numerator, SampleStatistics denominator, double limit)
    {
        double a = numerator.VarianceOfMean, b = limit * limit * denominator.VarianceOfMean;
        double dof = (a + b) * (a + b) / ((a * a / numerator.DegreesOfFreedom) + (b * b / denominator.DegreesOfFreedom));
        return new RatioTest((numerator.Mean - (limit * denominator.Mean)) / Math.Sqrt(a + b), dof);
    }
}
