using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>Where a further device lies.</summary>
public static class PredictionInterval
{
    private const int Nodes = 40;

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
    /// By the confidence distribution of τ²: each τ² counts as much as the profile of Q gives it, and has its own mean with the variance of
    /// Hartung and Knapp and Student's t. So an estimate of zero does not pass for a proof that there is no spread. Worked out by
    /// quadrature, without random numbers. <i>Source:</i> K. Nagashima, H. Noma, T. A. Furukawa, Statistical Methods in Medical Research 28
    /// (2019) 1689–1702, who draw it.
    /// </summary>
    /// <param name="model">The estimates, without what all share.</param>
    /// <param name="addedVariance">Variance on top of τ²: of what all share, or of a measurement.</param>
    /// <param name="coverage">Probability, between 0 and 1. [1]</param>
    public static (double Low, double High) ByConfidenceDistribution(SpreadModel model, double addedVariance, double coverage)
    {
        var parts = Parts(model, addedVariance);
        double tail = 0.5 * (1 - coverage);
        return (Quantile(parts, tail), Quantile(parts, 1 - tail));
    }

    private static List<Part> Parts(SpreadModel model, double addedVariance)
    {
        int dof = model.DegreesOfFreedom;
        var nodes = NodesOfTheTails();
        double[] t = [.. nodes.Select(n => StudentDistribution.Quantile(n.P, dof))];
        var parts = new List<Part>(Nodes * Nodes);
        foreach (var (p, weight) in nodes)
        {
            double spread = model.SpreadWhereProbabilityIs(p, 1e-7);
            double mean = model.Mean(spread), u = Math.Sqrt(model.Q(spread) / dof * model.MeanVariance(spread)),
                deviation = Math.Sqrt(spread + addedVariance);
            parts.AddRange(nodes.Select((n, j) => new Part(mean + (u * t[j]), deviation, weight * n.Weight)));
        }

        return parts;
    }

    // Midpoints that crowd towards 0 and 1, where the tails are decided.
    private static List<(double P, double Weight)> NodesOfTheTails()
    {
        double Edge(double v) => v * v * v * (10 - (15 * v) + (6 * v * v));
        var nodes = new List<(double, double)>(Nodes);
        for (int i = 0; i < Nodes; i++)
        {
            double from = Edge((double)i / Nodes), to = Edge((i + 1.0) / Nodes);
            nodes.Add((0.5 * (from + to), to - from));
        }

        return nodes;
    }

    private static double Quantile(List<Part> parts, double probability)
    {
        double low = parts.Min(p => p.Middle - (40 * p.Deviation)), high = parts.Max(p => p.Middle + (40 * p.Deviation)), span = high - low;
        for (int i = 0; i < 80 && high - low > 1e-9 * span; i++)
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
