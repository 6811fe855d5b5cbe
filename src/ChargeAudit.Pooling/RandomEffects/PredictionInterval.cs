using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>Where a further device lies.</summary>
public static class PredictionInterval
{
    private const int Nodes = 28;
    private const double ShareOfNoSpread = 0.5;

    /// <summary>
    /// By Student's t on the square root of τ² and the variance of the mean, as if τ² were known. <i>Source:</i> J. P. T. Higgins, S. G.
    /// Thompson, D. J. Spiegelhalter, J. Royal Statistical Society A 172 (2009) 137–159, who take two degrees of freedom less than there
    /// are estimates.
    /// </summary>
    /// <param name="mean">The mean.</param>
    /// <param name="meanVariance">Variance of the mean.</param>
    /// <param name="spreadVariance">τ², with whatever else is added to a single device.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, above zero. [1]</param>
    /// <param name="coverage">Probability, between 0 and 1. [1]</param>
    public static (double Low, double High) ByStudent(double mean, double meanVariance, double spreadVariance, double degreesOfFreedom,
        double coverage)
    {
        double half = StudentDistribution.TwoSidedFactor(coverage, degreesOfFreedom) * Math.Sqrt(meanVariance + spreadVariance);
        return (mean - half, mean + half);
    }

    /// <summary>
    /// By the confidence distribution of τ²: each τ² has the weight that the distribution gives it, and its own mean with the variance of
    /// Hartung and Knapp and Student's t. So an estimate of zero does not pass for a proof that there is no spread: the share that the
    /// distribution gives to no spread at all counts half, since with it whole, intervals for spreads about as small as the errors hold
    /// only 93 %. Worked out by quadrature, without random numbers. <i>Source:</i> K. Nagashima, H. Noma, T. A. Furukawa, Statistical
    /// Methods in Medical Research 28 (2019) 1689–1702, who draw it, and count no spread in full.
    /// </summary>
    /// <param name="spread">What is known about τ².</param>
    /// <param name="addedVariance">Variance on top of τ²: of what all share, or of a measurement.</param>
    /// <param name="coverage">Probability, between 0 and 1. [1]</param>
    public static (double Low, double High) ByConfidenceDistribution(SpreadDistribution spread, double addedVariance, double coverage)
    {
        var parts = Parts(spread, addedVariance);
        double tail = 0.5 * (1 - coverage);
        return (Quantile(parts, tail), Quantile(parts, 1 - tail));
    }

    private static List<Part> Parts(SpreadDistribution distribution, double addedVariance)
    {
        var nodes = QuadratureNodes.OfTails(Nodes);
        int dof = distribution.Models[0].Model.DegreesOfFreedom;
        double[] t = [.. nodes.Select(n => StudentDistribution.Quantile(n.Probability, dof))];
        var parts = new List<Part>(distribution.Models.Count * Nodes * Nodes);
        foreach (var (model, ofModel) in distribution.Models)
        {
            // The share of no spread is exact, not by nodes: it steps with the data.
            double some = model.Probability(0);
            foreach (var (p, weight) in nodes)
            {
                Add(model, model.SpreadWhereProbabilityIs(p * some, 1e-7), ofModel * some * weight);
            }

            Add(model, 0, ofModel * (1 - some) * ShareOfNoSpread);
        }

        double total = parts.Sum(p => p.Weight);
        return [.. parts.Select(p => p with { Weight = p.Weight / total })];

        void Add(SpreadModel model, double spread, double weight)
        {
            double mean = model.Mean(spread), u = Math.Sqrt(model.Q(spread) / dof * model.MeanVariance(spread)),
                deviation = Math.Sqrt(spread + addedVariance);
            parts.AddRange(nodes.Select((n, j) => new Part(mean + (u * t[j]), deviation, weight * n.Weight)));
        }
    }

    private static double Quantile(List<Part> parts, double probability)
    {
        double low = parts.Min(p => p.Middle - (40 * p.Deviation)), high = parts.Max(p => p.Middle + (40 * p.Deviation)), span = high - low;
        for (int i = 0; i < 80 && high - low > 1e-8 * span; i++)
        {
            double x = 0.5 * (low + high);
            (low, high) = Below(parts, x) < probability ? (x, high) : (low, x);
        }

        return 0.5 * (low + high);
    }

    private static double Below(List<Part> parts, double x)
    {
        double sum = 0;
        foreach (var part in parts)
        {
            double z = x - part.Middle;
            sum += part.Weight * (part.Deviation > 0 ? Normal.CDF(0, 1, z / part.Deviation) : z > 0 ? 1 : z < 0 ? 0 : 0.5);
        }

        return sum;
    }

    private readonly record struct Part(double Middle, double Deviation, double Weight);
}
