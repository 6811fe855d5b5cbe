using ChargeAudit.Checking;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>The power of the test of a margin against R.</summary>
public sealed class RatioTestPowerChecks
{
    // R 4.2.2: two million draws of both estimated variances (rchisq, seed 20261126), Welch's degrees of freedom from them (qt), and the
    // normal probability of what is then needed (pnorm), averaged; standard error at most 0.0003.
    [Theory]
    [InlineData(0.05, 0.01, 2, 2, 0.69603)]
    [InlineData(0.02, 0.01, 3, 3, 0.56957)]
    [InlineData(0.02, 0.01, 5, 5, 0.87595)]
    [InlineData(0.03, 0.01, 4, 4, 0.97139)]
    [InlineData(0.03, 0.01, 2, 8, 0.68034)]
    [InlineData(0.02, 0.005, 3, 12, 0.99182)]
    [InlineData(0.05, 0.02, 6, 6, 0.98726)]
    public void The_power_is_that_of_a_test_that_estimates_its_degrees_of_freedom(double margin, double scatter, int candidateRuns,
        int baselineRuns, double power)
    {
        double one = scatter * scatter, limit = 1 + margin;
        Assert.Equal(power, RatioTestPower.Of(margin, (one, limit * limit * one), (candidateRuns, baselineRuns), 0, 0.05), 1.5e-3);
    }

    // R 4.2.2, power.t.test: the test with one pooled scatter, from which Welch's differs little with so many runs.
    [Fact]
    public void With_many_runs_it_is_that_of_the_t_test()
    {
        Assert.Equal(0.7162549, RatioTestPower.Of(1, (4, 4), (40, 40), 0, 0.05), 2e-3);
        Assert.Equal(0.5377573, RatioTestPower.Of(1, (2.25, 2.25), (20, 20), 0, 0.025, ofMargin: false), 4e-3);
        Assert.Equal(RatioTestPower.Of(1, (8, 8), (60, 60), 0, 0.05),
            RatioTestPower.Of(1, (8.0 * 61 / 60, 8.0 * 61 / 60), (61, 61), 0, 0.05), 2e-3);
    }
}
