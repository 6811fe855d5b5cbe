namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Count, mean and scatter of a series. Two passes with compensated sums, so that a small scatter about a large mean keeps its digits;
/// never the difference of a
/// sum of squares and a squared sum. <i>Source:</i> JCGM 100:2008, 4.2 (mean, experimental standard deviation, Type A).
/// </summary>
/// <param name="Count">How many values. [1]</param>
/// <param name="Mean">Arithmetic mean; not a number for an empty series.</param>
/// <param name="StandardDeviation">Experimental standard deviation (divisor n − 1); not a number for fewer than two values.</param>
public sealed record SampleStatistics(int Count, double Mean, double StandardDeviation)
{
    /// <summary>Square of <see cref="StandardDeviation"/>.</summary>
    public double Variance => StandardDeviation * StandardDeviation;

    /// <summary>Degrees of freedom of the scatter: n − 1. [1]</summary>
    public double DegreesOfFreedom => Count - 1;

    /// <summary>Type A standard uncertainty of the mean of independent values: s/√n. <i>Source:</i> JCGM 100:2008, 4.2.3.</summary>
    public double StandardErrorOfMean => StandardDeviation / Math.Sqrt(Count);

    /// <summary>Variance of the mean of independent values.</summary>
    public double VarianceOfMean => Variance / Count;

    /// <summary>Figures of a series.</summary>
    /// <param name="values">The series, in any order.</param>
    public static SampleStatistics Of(ReadOnlySpan<double> values)
    {
        if (values.IsEmpty)
        {
            return new SampleStatistics(0, double.NaN, double.NaN);
        }

        double mean = MeanOf(values);
        var squares = default(CompensatedSum);
        var leftOver = default(CompensatedSum);
        foreach (double value in values)
        {
            double d = value - mean;
            squares += d * d;
            leftOver += d;
        }

        // Rounding the mean leaves a sum of deviations that is not quite zero; its effect is subtracted.
        double sum = squares.Value - (leftOver.Value * leftOver.Value / values.Length);
        return new SampleStatistics(values.Length, mean, values.Length < 2
            ? double.NaN
            : Math.Sqrt(Math.Max(0, sum) / (values.Length - 1)));
    }

    private static double MeanOf(ReadOnlySpan<double> values)
    {
        var total = default(CompensatedSum);
        foreach (double value in values)
        {
            total += value;
        }

        return total.Value / values.Length;
    }
}
