namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// An estimated difference with its standard error and degrees of freedom: what every t test and t interval here works on. Immutable.
/// </summary>
/// <param name="Difference">First mean minus second, in the values' unit.</param>
/// <param name="StandardError">Standard uncertainty of the difference, in the values' unit.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the standard error. [1]</param>
public sealed record DifferenceOfMeans(double Difference, double StandardError, double DegreesOfFreedom)
{
    /// <summary>Student's t against no difference. [1]</summary>
    public double T => Difference / StandardError;

    /// <summary>Probability of a t as far from zero, on either side, if there were no difference. [1]</summary>
    public double TwoSidedP => StudentDistribution.BothTails(T, DegreesOfFreedom);

    /// <summary>Two independent samples whose scatters may differ (Welch). <i>Source:</i> NIST/SEMATECH e-Handbook, 1.3.5.3.</summary>
    public static DifferenceOfMeans Welch(SampleStatistics first, SampleStatistics second)
    {
        double a = first.VarianceOfMean, b = second.VarianceOfMean;
        double dof = (a + b) * (a + b) / ((a * a / first.DegreesOfFreedom) + (b * b / second.DegreesOfFreedom));
        return new DifferenceOfMeans(first.Mean - second.Mean, Math.Sqrt(a + b), a + b == 0 ? first.DegreesOfFreedom + second.DegreesOfFreedom : dof);
    }

    /// <summary>Two independent samples of one and the same scatter. <i>Source:</i> NIST/SEMATECH e-Handbook, 1.3.5.3.</summary>
    public static DifferenceOfMeans Pooled(SampleStatistics first, SampleStatistics second)
    {
        double dof = first.DegreesOfFreedom + second.DegreesOfFreedom;
        double variance = ((first.DegreesOfFreedom * first.Variance) + (second.DegreesOfFreedom * second.Variance)) / dof;
        return new DifferenceOfMeans(first.Mean - second.Mean, Math.Sqrt(variance * ((1.0 / first.Count) + (1.0 / second.Count))), dof);
    }

    /// <summary>Pairs: each value of the first belongs to the value of the second at the same place.</summary>
    /// <exception cref="ArgumentException">The series differ in length.</exception>
    public static DifferenceOfMeans Paired(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        if (first.Length != second.Length)
        {
            throw new ArgumentException($"pairs need series of one length, not {first.Length} and {second.Length}", nameof(second));
        }

        var differences = new double[first.Length];
        for (int i = 0; i < differences.Length; i++)
        {
            differences[i] = first[i] - second[i];
        }

        return OneSample(SampleStatistics.Of(differences), 0);
    }

    /// <summary>One sample against a fixed value.</summary>
    /// <param name="sample">The sample.</param>
    /// <param name="reference">What its mean is compared with, in the values' unit.</param>
    public static DifferenceOfMeans OneSample(SampleStatistics sample, double reference) =>
        new(sample.Mean - reference, sample.StandardErrorOfMean, sample.DegreesOfFreedom);

    /// <summary>Interval of the true difference.</summary>
    /// <param name="coverage">Probability that the interval holds it, 0 to 1. [1]</param>
    public (double Low, double High) Interval(double coverage)
    {
        double half = StudentDistribution.TwoSidedFactor(coverage, DegreesOfFreedom) * StandardError;
        return (Difference - half, Difference + half);
    }

    /// <summary>t against a difference other than none. [1]</summary>
    /// <param name="bound">The difference supposed, in the values' unit.</param>
    public double TAgainst(double bound) => (Difference - bound) / StandardError;
}
