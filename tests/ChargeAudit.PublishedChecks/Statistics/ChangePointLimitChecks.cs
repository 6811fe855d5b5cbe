using ChargeAudit.Checking.Drift;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Limits of the change-point chart against another program: R 4.2.2, six million histories of normal runs with the scatter pooled within
/// measurements (rchisq), seed 20261126; at each measurement the quantile 1 − 1/335 of the scores of those histories that had raised no
/// alarm. Standard error 0.003. D. M. Hawkins, P. Qiu and C. W. Kang (2003) print limits for a two-sided chart whose scatter comes from the
/// series itself; they do not apply.
/// </summary>
public sealed class ChangePointLimitChecks
{
    [Theory]
    [InlineData(new[] { 3, 3, 3, 3 }, new[] { 2.748289, 2.865934, 2.916880 })]
    [InlineData(new[] { 15, 3, 3, 3 }, new[] { 2.751659, 2.866071, 2.926204 })]
    [InlineData(new[] { 2, 5, 3 }, new[] { 2.751700, 2.853906 })]
    public void Limits_of_a_constant_hazard(int[] runs, double[] expected)
    {
        var limits = ChangePointLimits.Of([.. runs.Select(n => ((double)n, n - 1.0))], 1 / 335.0);
        Assert.Equal(double.PositiveInfinity, limits[0]);

        // With two measurements there is one change point, and the limit is the normal quantile itself.
        Assert.Equal(2.749, limits[1], 0.02);
        Assert.All(expected.Zip(limits.Skip(1)), p => Assert.Equal(p.First, p.Second, 0.03));
    }
}
