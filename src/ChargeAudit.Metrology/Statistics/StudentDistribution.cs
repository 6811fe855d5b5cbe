using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Quantiles and tails of Student's t; infinitely many degrees of freedom give the normal distribution. Fractional degrees of freedom are
/// taken as they are.
/// Good to about 1e-10, relative. <i>Source:</i> JCGM 100:2008, G.3.
/// </summary>
public static class StudentDistribution
{
    private const double PracticallyNormal = 1e7;

    /// <summary>The value that t stays below with a probability.</summary>
    /// <param name="probability">Probability, between 0 and 1. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero; positive infinity for the normal distribution. [1]</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter lies outside its range.</exception>
    public static double Quantile(double probability, double degreesOfFreedom)
    {
        if (!(probability > 0 && probability < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(probability), probability, "a probability lies between 0 and 1");
        }

        if (!(degreesOfFreedom > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "degrees of freedom are greater than zero");
        }

        if (probability == 0.5)
        {
            return 0;
        }

        // The smaller tail keeps its digits where the larger one has rounded to 1.
        double tail = Math.Min(probability, 1 - probability);
        double t = degreesOfFreedom > PracticallyNormal ? -Normal.InvCDF(0, 1, tail) : UpperQuantile(tail, degreesOfFreedom);
        return probability > 0.5 ? t : -t;
    }

    /// <summary>The factor k of a symmetric interval ±k.</summary>
    /// <param name="coverage">Probability of the interval, between 0 and 1. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero. [1]</param>
    public static double TwoSidedFactor(double coverage, double degreesOfFreedom) => Quantile(0.5 * (1 + coverage), degreesOfFreedom);

    /// <summary>Probability that Student's t lies above a value.</summary>
    /// <param name="t">The value. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero. [1]</param>
    public static double UpperTail(double t, double degreesOfFreedom) =>
        degreesOfFreedom > PracticallyNormal ? Normal.CDF(0, 1, -t) : StudentT.CDF(0, 1, degreesOfFreedom, -t);

    /// <summary>Probability that Student's t lies further from zero than a value does, on either side.</summary>
    /// <param name="t">The value. [1]</param>
    /// <param name="degreesOfFreedom">Greater than zero. [1]</param>
    public static double BothTails(double t, double degreesOfFreedom) => Math.Min(1, 2 * UpperTail(Math.Abs(t), degreesOfFreedom));

    // Bracket and bisect, then Newton: the tail is monotone and smooth. A library search that stops at a fixed bound fails for one degree
    // of freedom far out.
    private static double UpperQuantile(double tail, double dof)
    {
        if (dof == 1)
        {
            return 1 / Math.Tan(Math.PI * tail);
        }

        if (dof == 2)
        {
            return (1 - (2 * tail)) / Math.Sqrt(2 * tail * (1 - tail));
        }

        double low = 0, high = 2;
        while (UpperTail(high, dof) > tail)
        {
            low = high;
            high *= 2;
        }

        double t = 0.5 * (low + high);
        for (int i = 0; i < 200 && high - low > 1e-15 * high; i++)
        {
            double excess = UpperTail(t, dof) - tail;
            if (excess > 0)
            {
                low = t;
            }
            else
            {
                high = t;
            }

            double next = t + (excess / StudentT.PDF(0, 1, dof, t));
            if (!(next > low && next < high))
            {
                next = 0.5 * (low + high);
            }

            if (Math.Abs(next - t) <= 1e-15 * t)
            {
                return next;
            }

            t = next;
        }

        return t;
    }
}
