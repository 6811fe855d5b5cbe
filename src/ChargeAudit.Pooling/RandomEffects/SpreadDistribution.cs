using MathNet.Numerics.Distributions;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// What the scatter of the estimates says about τ², as a confidence distribution. Where the variances of the estimates come from few runs,
/// they may all be too small or too large together, and what is subtracted from the scatter is as uncertain as they are: their common size
/// is drawn from its inverse χ², and the distribution is the mixture over it. Immutable. <i>Source:</i> K. Nagashima, H. Noma, T. A.
/// Furukawa, Statistical Methods in Medical Research 28 (2019) 1689–1702, for known variances; generalised pivotal quantities after S.
/// Weerahandi, J. American Statistical Association 88 (1993) 899–905, for the common size.
/// </summary>
public sealed class SpreadDistribution
{
    private const int Sizes = 7;

    private SpreadDistribution(IReadOnlyList<(SpreadModel Model, double Weight)> models) => Models = models;

    /// <summary>The model at each size of the variances, and what it counts; the weights add up to 1.</summary>
    internal IReadOnlyList<(SpreadModel Model, double Weight)> Models { get; }

    /// <summary>With variances that are known.</summary>
    /// <param name="model">The estimates.</param>
    public static SpreadDistribution Known(SpreadModel model) => new([(model, 1)]);

    /// <summary>With variances that are known but for a common factor.</summary>
    /// <param name="ofFactor">The estimates with their variances by runs times a factor; 1 is as the runs showed them.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of the common factor; positive infinity: it is known. [1]</param>
    public static SpreadDistribution Of(Func<double, SpreadModel> ofFactor, double degreesOfFreedom)
    {
        if (!double.IsFinite(degreesOfFreedom))
        {
            return Known(ofFactor(1));
        }

        return new([.. QuadratureNodes.OfTails(Sizes)
            .Select(n => (ofFactor(degreesOfFreedom / ChiSquared.InvCDF(degreesOfFreedom, n.Probability)), n.Weight))]);
    }

    /// <summary>The interval for τ²; for known variances that of the profile of Q, which is exact there, correlated or not. Errors that a
    /// few runs showed too small by chance look like a spread, so its low end allows for them; its high end does not need it.
    /// <i>Source:</i> W. Viechtbauer, Statistics in Medicine 26 (2007) 37–52.</summary>
    /// <param name="coverage">Probability of the interval, between 0 and 1. [1]</param>
    public (double Low, double High) Interval(double coverage) =>
        (Where(0.5 * (1 + coverage), cautious: true), Where(0.5 * (1 - coverage), cautious: false));

    private double Where(double probability, bool cautious)
    {
        // A distribution that gives more than this to no spread starts there.
        if (Models.Sum(m => m.Weight * m.Model.Probability(0, cautious)) <= probability)
        {
            return 0;
        }

        // It lies between the least and the greatest that any of the models gives, and their mixture falls with τ².
        double[] each = [.. Models.Select(m => m.Model.SpreadWhereProbabilityIs(probability, cautious: cautious))];
        double low = each.Min(), high = each.Max();
        for (int i = 0; i < 60 && high - low > 1e-12 * high; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Models.Sum(m => m.Weight * m.Model.Probability(middle, cautious)) > probability ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }
}
