using MathNet.Numerics;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// Variances that were each estimated from few runs, drawn towards what all of them say. A variance from three runs may come out at a tenth
/// of the truth by chance, and its figure would then carry the whole mean. Prior variance s₀² and its degrees of freedom d₀ come from mean
/// and scatter of the logarithms. <i>Source:</i> G. K. Smyth, Statistical Applications in Genetics and Molecular Biology 3 (2004), article
/// 3, section 6.2.
/// </summary>
/// <param name="PriorVariance">s₀²: what all of them say.</param>
/// <param name="PriorDegreesOfFreedom">d₀; positive infinity where they differ no more than few runs explain. [1]</param>
/// <param name="TotalDegreesOfFreedom">Those of all estimates together: no moderated variance is known better than that. [1]</param>
public sealed record ModeratedVariance(double PriorVariance, double PriorDegreesOfFreedom, double TotalDegreesOfFreedom)
{
    /// <summary>What the variances have in common.</summary>
    /// <param name="variances">Estimates, at least one.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of each, above zero. [1]</param>
    public static ModeratedVariance Of(IReadOnlyList<double> variances, IReadOnlyList<double> degreesOfFreedom)
    {
        // Runs that agree to the last digit say nothing about a logarithm; a floor far below the others keeps them in.
        double median = variances.Order().ElementAt(variances.Count / 2), floor = 1e-5 * (median > 0 ? median : variances.Max());
        double mean = variances.Zip(degreesOfFreedom).Sum(v => v.First * v.Second) / degreesOfFreedom.Sum(), total = degreesOfFreedom.Sum();
        if (variances.Count < 2 || !(floor > 0))
        {
            return new ModeratedVariance(mean, double.PositiveInfinity, total);
        }

        double[] e = [.. variances.Zip(degreesOfFreedom, (v, d) => Math.Log(Math.Max(v, floor)) - SpecialFunctions.DiGamma(0.5 * d)
            + Math.Log(0.5 * d))];
        double middle = e.Average(), squares = e.Sum(x => (x - middle) * (x - middle)) / (e.Length - 1);
        double rest = squares - degreesOfFreedom.Average(d => TriGamma(0.5 * d));
        if (!(rest > 0))
        {
            return new ModeratedVariance(mean, double.PositiveInfinity, total);
        }

        double prior = 2 * TriGammaInverse(rest);
        return new ModeratedVariance(Math.Exp(middle + SpecialFunctions.DiGamma(0.5 * prior) - Math.Log(0.5 * prior)), prior, total);
    }

    /// <summary>One of the variances, moderated.</summary>
    /// <param name="variance">The estimate.</param>
    /// <param name="degreesOfFreedom">Its degrees of freedom. [1]</param>
    public (double Variance, double DegreesOfFreedom) Apply(double variance, double degreesOfFreedom) =>
        double.IsInfinity(PriorDegreesOfFreedom)
        ? (PriorVariance, TotalDegreesOfFreedom)
        : (((PriorDegreesOfFreedom * PriorVariance) + (degreesOfFreedom * variance)) / (PriorDegreesOfFreedom + degreesOfFreedom),
            Math.Min(TotalDegreesOfFreedom, PriorDegreesOfFreedom + degreesOfFreedom));

    // Second derivative of the logarithm of the gamma function: upwards by its recurrence, then the asymptotic series.
    private static double TriGamma(double x)
    {
        double sum = 0;
        for (; x < 20; x++)
        {
            sum += 1 / (x * x);
        }

        double y = 1 / (x * x);
        return sum + (1 / x) + (0.5 * y) + (y / x * ((1.0 / 6) - (y * ((1.0 / 30) - (y * ((1.0 / 42) - (y / 30)))))));
    }

    // It falls from infinity to zero.
    private static double TriGammaInverse(double value)
    {
        double low = 1e-8, high = 1e8;
        for (int i = 0; i < 200; i++)
        {
            double middle = Math.Sqrt(low * high);
            (low, high) = TriGamma(middle) > value ? (middle, high) : (low, middle);
        }

        return Math.Sqrt(low * high);
    }
}
