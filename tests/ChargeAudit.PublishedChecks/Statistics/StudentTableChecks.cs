using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: critical values of Student's t. The table prints three decimals; the further
/// three were computed elsewhere
/// (scipy). The column .999 is left out: a reprint of it carries misprints.
/// </summary>
public sealed class StudentTableChecks
{
    [Theory]
    [InlineData(1, 3.077684, 6.313752, 12.706205, 31.820516, 63.656741)]
    [InlineData(2, 1.885618, 2.919986, 4.302653, 6.964557, 9.924843)]
    [InlineData(3, 1.637744, 2.353363, 3.182446, 4.540703, 5.840909)]
    [InlineData(4, 1.533206, 2.131847, 2.776445, 3.746947, 4.604095)]
    [InlineData(5, 1.475884, 2.015048, 2.570582, 3.364930, 4.032143)]
    [InlineData(6, 1.439756, 1.943180, 2.446912, 3.142668, 3.707428)]
    [InlineData(8, 1.396815, 1.859548, 2.306004, 2.896459, 3.355387)]
    [InlineData(10, 1.372184, 1.812461, 2.228139, 2.763769, 3.169273)]
    [InlineData(15, 1.340606, 1.753050, 2.131450, 2.602480, 2.946713)]
    [InlineData(19, 1.327728, 1.729133, 2.093024, 2.539483, 2.860935)]
    [InlineData(30, 1.310415, 1.697261, 2.042272, 2.457262, 2.749996)]
    [InlineData(60, 1.295821, 1.670649, 2.000298, 2.390119, 2.660283)]
    [InlineData(100, 1.290075, 1.660234, 1.983972, 2.364217, 2.625891)]
    public void Critical_values(int dof, double at90, double at95, double at975, double at99, double at995)
    {
        // Half a unit of the last decimal given.
        Assert.Equal(at90, StudentDistribution.Quantile(0.90, dof), 5.1e-7);
        Assert.Equal(at95, StudentDistribution.Quantile(0.95, dof), 5.1e-7);
        Assert.Equal(at975, StudentDistribution.Quantile(0.975, dof), 5.1e-7);
        Assert.Equal(at99, StudentDistribution.Quantile(0.99, dof), 5.1e-7);
        Assert.Equal(at995, StudentDistribution.Quantile(0.995, dof), 5.1e-7);
    }

    [Fact]
    public void Ten_degrees_to_a_doubles_digits()
    {
        // 2.2281388519649385: scipy and arbitrary precision. 1e-10: what the incomplete beta function underneath gives (R's differs as
        // much).
        Assert.Equal(2.2281388519649385, StudentDistribution.Quantile(0.975, 10), 1e-10);
    }
}
