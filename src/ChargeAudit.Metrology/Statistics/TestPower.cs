using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// What a test's statistic does where there is a difference, from which its power follows. <i>Source:</i> noncentral t: N. L. Johnson and
/// B. L. Welch, Biometrika 31 (1940) 362–389.
/// </summary>
public static class TestPower
{
    private const int Panels = 1000;

    /// <summary>Probability that the noncentral t lies below a value.</summary>
    /// <param name="t">The value. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero; positive infinity for a shifted normal. [1]</param>
    /// <param name="noncentrality">True difference divided by its true standard error. [1]</param>
    public static double NoncentralLowerTail(double t, double degreesOfFreedom, double noncentrality)
    {
        if (degreesOfFreedom > 1e6)
        {
            return Normal.CDF(0, 1, t - noncentrality);
        }

        // T ≤ t where Z ≤ t·r − δ, with r² the ratio of the estimated to the true variance. Integrating over r, whose density is smooth, by
        // Simpson's rule.
        double spread = Math.Sqrt(0.5 / degreesOfFreedom);
        double low = Math.Max(0, 1 - (12 * spread)), high = 1 + (12 * spread);
        double step = (high - low) / Panels, sum = 0;
        double half = 0.5 * degreesOfFreedom;
        double logScale = (half * Math.Log(half)) - SpecialFunctions.GammaLn(half) + Math.Log(2);
        for (int i = 0; i <= Panels; i++)
        {
            double r = low + (i * step);
            double density = r == 0
                ? (degreesOfFreedom == 1 ? Math.Exp(logScale) : 0)
                : Math.Exp(logScale + ((degreesOfFreedom - 1) * Math.Log(r)) - (0.5 * degreesOfFreedom * r * r));
            int weight = i is 0 or Panels ? 1 : i % 2 == 1 ? 4 : 2;
            sum += weight * density * Normal.CDF(0, 1, (t * r) - noncentrality);
        }

        return Math.Clamp(sum * step / 3, 0, 1);
    }
}
