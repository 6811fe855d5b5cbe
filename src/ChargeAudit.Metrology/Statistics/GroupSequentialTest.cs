using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// A one-sided test looked at several times. The standardized statistics Z₁, Z₂, … of growing data have independent increments: with the
/// information fractions tⱼ, Z√t is a Brownian motion seen at tⱼ. The chance of first crossing a bound is found by numerical integration
/// from look to look, and the bounds follow from what a spending rule allows each look. <i>Source:</i> P. Armitage, C. K. McPherson and B.
/// C. Rowe, J. Royal Statistical Society A 132 (1969) 235–244 (the integrals); K. K. G. Lan and D. L. DeMets, Biometrika 70 (1983) 659–663
/// (the bounds).
/// </summary>
public static class GroupSequentialTest
{
    // Densities are kept at these nodes between the least value that matters and the bound.
    private const int Nodes = 160;
    private const double Least = -8;
    private const double Greatest = 9;

    /// <summary>Probability of crossing a bound at any look up to the last, with no true difference.</summary>
    /// <param name="fractions">Information at each look divided by that at the last, rising. [1]</param>
    /// <param name="bounds">Bound of each look's statistic. [1]</param>
    public static double CrossingProbability(IReadOnlyList<double> fractions, IReadOnlyList<double> bounds)
    {
        ArgumentNullException.ThrowIfNull(fractions);
        ArgumentNullException.ThrowIfNull(bounds);
        double crossed = 0;
        Density? before = null;
        for (int i = 0; i < fractions.Count; i++)
        {
            crossed += Tail(before, fractions[i], bounds[i]);
            before = Density.After(before, fractions[i], bounds[i]);
        }

        return crossed;
    }

    /// <summary>The one-sided level at which each look is tested by itself, so that all together spend what the rule allows.</summary>
    /// <param name="rule">The spending rule.</param>
    /// <param name="alpha">One-sided level of the whole, between 0 and 0.5. [1]</param>
    /// <param name="fractions">Information at each look divided by that at the last, above 0 and rising. [1]</param>
    /// <returns>A level for each look. [1]</returns>
    public static IReadOnlyList<double> Levels(SpendingRule rule, double alpha, IReadOnlyList<double> fractions) =>
        [.. Bounds(rule, alpha, fractions).Select(b => Normal.CDF(0, 1, -b))];

    /// <summary>The bounds themselves, in standard deviations.</summary>
    /// <inheritdoc cref="Levels"/>
    /// <returns>A bound for each look. [1]</returns>
    public static IReadOnlyList<double> Bounds(SpendingRule rule, double alpha, IReadOnlyList<double> fractions)
    {
        ArgumentNullException.ThrowIfNull(fractions);
        var bounds = new double[fractions.Count];
        Density? before = null;
        double spent = 0;
        for (int i = 0; i < bounds.Length; i++)
        {
            double allowed = AlphaSpending.Spent(rule, alpha, fractions[i]);
            bounds[i] = BoundFor(before, fractions[i], allowed - spent);
            spent = allowed;
            before = Density.After(before, fractions[i], bounds[i]);
        }

        return bounds;
    }

    private static double BoundFor(Density? before, double fraction, double probability)
    {
        double low = Least, high = Greatest;
        for (int i = 0; i < 60 && high - low > 1e-10; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Tail(before, fraction, middle) > probability ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }

    // Probability of being below every bound so far and above this one now.
    private static double Tail(Density? before, double fraction, double bound)
    {
        if (before is null)
        {
            return Normal.CDF(0, 1, -bound);
        }

        double step = Math.Sqrt(fraction - before.Fraction), at = bound * Math.Sqrt(fraction), sum = 0;
        for (int i = 0; i < Nodes; i++)
        {
            sum += before.Mass[i] * Normal.CDF(0, 1, (before.At[i] - at) / step);
        }

        return sum;
    }

    /// <summary>Where Z√t lies after a look that crossed no bound: nodes, and the mass that each stands for.</summary>
    private sealed record Density(double Fraction, double[] At, double[] Mass)
    {
        public static Density After(Density? before, double fraction, double bound)
        {
            double root = Math.Sqrt(fraction);
            var rule = new GaussLegendreRule(Least * root, Math.Max(Least + 1, bound) * root, Nodes);
            var (at, mass) = (new double[Nodes], new double[Nodes]);
            for (int i = 0; i < Nodes; i++)
            {
                at[i] = rule.GetAbscissa(i);
                mass[i] = rule.GetWeight(i) * (before is null ? Normal.PDF(0, root, at[i]) : Arriving(before, fraction, at[i]));
            }

            return new Density(fraction, at, mass);
        }

        private static double Arriving(Density before, double fraction, double at)
        {
            double step = Math.Sqrt(fraction - before.Fraction), sum = 0;
            for (int i = 0; i < Nodes; i++)
            {
                double z = (at - before.At[i]) / step;
                sum += before.Mass[i] * Math.Exp(-0.5 * z * z);
            }

            return sum / (step * Math.Sqrt(2 * Math.PI));
        }
    }
}
