using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// How likely a test finds a difference of a given size, and so how many runs it needs. <i>Source:</i> noncentral t: N. L. Johnson and B.
/// L. Welch, Biometrika 31 (1940) 362–389.
/// </summary>
public static class TestPower
{
    private const int MostRuns = 10_000;
    private const int Panels = 1000;

    /// <summary>Probability that the noncentral t lies below a value.</summary>
    /// <param name="t">The value. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero; positive infinity for a shifted normal. [1]</param>
    /// <param name="noncentrality">True difference by its true standard error. [1]</param>
    public static double NoncentralLowerTail(double t, double degreesOfFreedom, double noncentrality)
    {
        if (degreesOfFreedom > 1e6)
        {
            return Normal.CDF(0, 1, t - noncentrality);
        }

        // T ≤ t where Z ≤ t·r − δ, with r² the estimated by the true variance. Integrating over r, whose density is smooth, by Simpson's
        // rule.
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

    /// <summary>Power of a two-sided t test with equal numbers of runs of two methods of one scatter.</summary>
    /// <param name="difference">True difference of the means, in the scatter's unit.</param>
    /// <param name="standardDeviation">True scatter of a single run.</param>
    /// <param name="runsEach">Runs of each method, at least 2. [1]</param>
    /// <param name="alpha">Level of the test, 0 to 1. [1]</param>
    public static double OfTwoMeans(double difference, double standardDeviation, int runsEach, double alpha = 0.05)
    {
        double dof = (2 * runsEach) - 2;
        double delta = Math.Abs(difference) / (standardDeviation * Math.Sqrt(2.0 / runsEach));
        double critical = StudentDistribution.Quantile(1 - (0.5 * alpha), dof);
        return 1 - NoncentralLowerTail(critical, dof, delta) + NoncentralLowerTail(-critical, dof, delta);
    }

    /// <summary>Power of a one-sided t test (a margin kept, say) with equal numbers of runs of two methods of one scatter.</summary>
    /// <inheritdoc cref="OfTwoMeans"/>
    public static double OfMargin(double difference, double standardDeviation, int runsEach, double alpha = 0.05)
    {
        double dof = (2 * runsEach) - 2;
        double delta = Math.Abs(difference) / (standardDeviation * Math.Sqrt(2.0 / runsEach));
        return 1 - NoncentralLowerTail(StudentDistribution.Quantile(1 - alpha, dof), dof, delta);
    }

    /// <summary>Fewest runs of each method with which the two-sided test reaches a power; null where ten thousand do not.</summary>
    /// <param name="difference">True difference of the means, in the scatter's unit.</param>
    /// <param name="standardDeviation">True scatter of a single run.</param>
    /// <param name="power">Power wanted, 0 to 1. [1]</param>
    /// <param name="alpha">Level of the test, 0 to 1. [1]</param>
    public static int? RunsNeeded(double difference, double standardDeviation, double power = 0.8, double alpha = 0.05)
    {
        if (OfTwoMeans(difference, standardDeviation, MostRuns, alpha) < power)
        {
            return null;
        }

        int low = 1, high = MostRuns;
        while (high - low > 1)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = OfTwoMeans(difference, standardDeviation, middle, alpha) < power ? (middle, high) : (low, middle);
        }

        return high;
    }
}
