using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace ChargeAudit.Checking;

/// <summary>
/// How likely the test of a ratio decides: the very test that <see cref="MarginTest"/> applies, which estimates both scatters and takes its
/// degrees of freedom from those estimates. So the power is averaged over what the two estimates may come out as, and not computed with the
/// degrees of freedom of the true scatters, which with few runs promises too much. <i>Source:</i> the estimates of normal scatters are χ²
/// distributed and independent of the means; B. L. Welch, Biometrika 34 (1947) 28–35 (degrees of freedom).
/// </summary>
public static class RatioTestPower
{
    // Nodes of the double integral: its error stays below 0.001 from two runs on. With a meter's part each pair of nodes costs a
    // convolution.
    private const int Nodes = 40;
    private const int NodesWithMeter = 14;

    // From here on the estimates scatter too little to matter (below 0.001 of power).
    private const int ManyRuns = 60;

    /// <summary>Probability that the difference A − ρ₀B is shown to lie on its own side of zero.</summary>
    /// <param name="difference">Its true size, not negative.</param>
    /// <param name="variance">True variance of a single run of A, and of one of ρ₀B, in the difference's unit squared.</param>
    /// <param name="runs">Runs of A and of B, each at least 2; positive infinity: the best that runs can do. [1]</param>
    /// <param name="meterVariance">What the meters bring to the difference however many runs there are, in its unit squared.</param>
    /// <param name="alpha">Level of each side of the test. [1]</param>
    /// <param name="ofMargin">True for the test of a margin; false for telling two means apart, whose interval has other degrees of freedom
    /// with two runs.</param>
    public static double Of(double difference, (double A, double B) variance, (double A, double B) runs, double meterVariance, double alpha,
        bool ofMargin = true)
    {
        double a = variance.A / runs.A, b = variance.B / runs.B, all = a + b + meterVariance;
        if (all == 0)
        {
            return difference > 0 ? 1 : alpha;
        }

        bool nothingEstimated = a + b == 0;
        if (nothingEstimated || Math.Min(runs.A, runs.B) > ManyRuns)
        {
            double dof = nothingEstimated
                ? double.PositiveInfinity
                : all * all / ((a == 0 ? 0 : a * a / (runs.A - 1)) + (b == 0 ? 0 : b * b / (runs.B - 1)));
            return 1 - TestPower.NoncentralLowerTail(StudentDistribution.Quantile(1 - alpha, dof), dof, difference / Math.Sqrt(all));
        }

        // Of two χ² the sum and the share of the first are independent, and the degrees of freedom depend on the share alone. With W =
        // sin²θ its density is sin^(n−2)θ·cos^(m−2)θ, and that of r = √(sum by its degrees of freedom N) is r^(N−1)·exp(−N·r²/2): both
        // smooth.
        double dofA = runs.A - 1, dofB = runs.B - 1, total = dofA + dofB, spread = Math.Sqrt(0.5 / total);
        int nodes = meterVariance > 0 ? NodesWithMeter : Nodes;
        GaussLegendreRule angles = new(0, 0.5 * Math.PI, nodes), sizes = new(Math.Max(0, 1 - (7 * spread)), 1 + (7 * spread), nodes);
        double power = 0, weights = 0;
        for (int i = 0; i < nodes; i++)
        {
            double sine = Math.Sin(angles.GetAbscissa(i)), cosine = Math.Cos(angles.GetAbscissa(i));
            double ofA = a * total * sine * sine / dofA, ofB = b * total * cosine * cosine / dofB;
            double ofAngle = angles.GetWeight(i) * Math.Exp(((dofA - 1) * Math.Log(sine)) + ((dofB - 1) * Math.Log(cosine)));
            double freedom = ofMargin
                ? RatioOfMeans.WelchFreedom(ofA, dofA, ofB, dofB)
                : RatioOfMeans.FreedomTogether(ofA, dofA, ofB, dofB);
            double student = StudentDistribution.Quantile(1 - alpha, freedom);
            for (int j = 0; j < nodes; j++)
            {
                double r = sizes.GetAbscissa(j), estimated = (ofA + ofB) * r * r;
                double weight = ofAngle * sizes.GetWeight(j) * Math.Exp(((total - 1) * Math.Log(r)) - (0.5 * total * ((r * r) - 1)));
                double factor = meterVariance == 0 ? student : WithMeter(estimated, freedom, meterVariance, alpha);
                power += weight * Normal.CDF(0, 1, (difference - (factor * Math.Sqrt(estimated + meterVariance))) / Math.Sqrt(all));
                weights += weight;
            }
        }

        return power / weights;
    }

    private static double WithMeter(double estimated, double freedom, double meterVariance, double alpha) => CoverageFactor.Of(
        [
            new UncertaintyComponent(new InfluenceSource("scatter", freedom), Math.Sqrt(estimated)),
            new UncertaintyComponent(new InfluenceSource("meter"), Math.Sqrt(meterVariance)),
        ],
        1 - (2 * alpha));
}
