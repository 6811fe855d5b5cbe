using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Whether a series rises or falls, whatever the form of the trend and of the scatter; ties are allowed for. The normal approximation is
/// fair from about ten values.
/// <i>Source:</i> H. B. Mann, Econometrica 13 (1945) 245–259; M. G. Kendall, Rank Correlation Methods.
/// </summary>
/// <param name="S">Rising pairs less falling pairs. [1]</param>
/// <param name="Variance">Variance of S if there were no trend. [1]</param>
public sealed record MannKendall(long S, double Variance)
{
    /// <summary>S with its continuity correction, divided by its standard deviation; zero where all values are equal. [1]</summary>
    public double Z => S == 0 || Variance == 0 ? 0 : (S - Math.Sign(S)) / Math.Sqrt(Variance);

    /// <summary>Probability of so strong a trend, either way, if there were none. [1]</summary>
    public double TwoSidedP => Math.Min(1, 2 * Normal.CDF(0, 1, -Math.Abs(Z)));

    /// <summary>Tests a series.</summary>
    /// <param name="values">Values in order of time.</param>
    public static MannKendall Of(ReadOnlySpan<double> values)
    {
        long s = 0;
        int n = values.Length;
        for (int i = 0; i < n; i++)
        {
            for (int j = i + 1; j < n; j++)
            {
                s += Math.Sign(values[j] - values[i]);
            }
        }

        double ties = values.ToArray().GroupBy(v => v).Sum(g => Term(g.Count()));
        return new MannKendall(s, (Term(n) - ties) / 18);
    }

    private static double Term(double n) => n * (n - 1) * ((2 * n) + 5);
}
