namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The value that represents a model from a sample of its units: the higher of the mean and the upper 97.5 % confidence limit divided by
/// 1.05. <i>Source:</i> 10 CFR 429.39(a)(2)(ii): UCL = x̄ + t(0.975; n − 1)·s/√n.
/// </summary>
/// <param name="Mean">Mean of the sample.</param>
/// <param name="StandardDeviation">Standard deviation with n − 1; zero for one unit.</param>
/// <param name="StudentT">Quantile of Student's t; NaN for one unit.</param>
/// <param name="UpperLimit">Upper confidence limit; NaN for one unit.</param>
/// <param name="Represented">The represented value; null where the sample is too small.</param>
/// <param name="WhyNot">Why there is none; null where there is one.</param>
public sealed record RepresentedValue(
    double Mean, double StandardDeviation, double StudentT, double UpperLimit, double? Represented, string? WhyNot)
{
    /// <summary>The represented value of a sample.</summary>
    /// <param name="values">One value for each unit, all in one unit; at least one.</param>
    public static RepresentedValue Of(IReadOnlyList<double> values)
    {
        ArgumentOutOfRangeException.ThrowIfZero(values.Count);
        double mean = values.Average();
        if (values.Count == 1)
        {
            return new RepresentedValue(mean, 0, double.NaN, double.NaN, null,
                "a confidence limit needs at least two units, and one was tested");
        }

        double s = Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1));
        double t = MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, values.Count - 1, 0.975);
        double upper = mean + (t * s / Math.Sqrt(values.Count));
        return new RepresentedValue(mean, s, t, upper, Math.Max(mean, upper / 1.05), null);
    }
}
