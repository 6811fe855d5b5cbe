using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Bounds and error probabilities of tests that are looked at several times against published tables. The tables are two-sided; one side of
/// them has half the level, and crossing both is too rare to be seen in their digits. All values are from memory; the tolerance is one unit
/// of the last digit printed, two for the bounds of spending functions, whose program of that time integrated on coarse grids.
/// </summary>
public sealed class GroupSequentialChecks
{
    // K. K. G. Lan and D. L. DeMets, Biometrika 70 (1983), and D. M. Reboussin, D. L. DeMets, K. Kim and K. K. G. Lan, Controlled Clinical
    // Trials 21 (2000): five equal looks, two-sided 0.05.
    [Theory]
    [InlineData(SpendingRule.OBrienFleming, new[] { 4.8769, 3.3569, 2.6803, 2.2898, 2.0310 })]
    [InlineData(SpendingRule.Pocock, new[] { 2.4380, 2.4268, 2.4101, 2.3966, 2.3859 })]
    public void Bounds_of_spending_functions(SpendingRule rule, double[] expected)
    {
        var bounds = GroupSequentialTest.Bounds(rule, 0.025, [0.2, 0.4, 0.6, 0.8, 1]);
        Assert.All(expected.Zip(bounds), p => Assert.Equal(p.First, p.Second, 2e-4));
    }

    // S. J. Pocock, Biometrika 64 (1977) 191–199, and C. Jennison and B. W. Turnbull, Group Sequential Methods (2000), table 2.1: one
    // constant for all looks.
    [Theory]
    [InlineData(2, 2.178)]
    [InlineData(3, 2.289)]
    [InlineData(4, 2.361)]
    [InlineData(5, 2.413)]
    [InlineData(10, 2.555)]
    public void Pococks_constants_spend_five_per_cent(int looks, double constant) =>
        Assert.Equal(0.025, GroupSequentialTest.CrossingProbability(Equal(looks), [.. Enumerable.Repeat(constant, looks)]), 5e-5);

    // P. C. O'Brien and T. R. Fleming, Biometrics 35 (1979) 549–556, and the same book, table 2.3: the constant times √(looks by look).
    [Theory]
    [InlineData(2, 1.977)]
    [InlineData(3, 2.004)]
    [InlineData(4, 2.024)]
    [InlineData(5, 2.040)]
    [InlineData(10, 2.087)]
    public void O_Brien_and_Flemings_constants_spend_five_per_cent(int looks, double constant) => Assert.Equal(
        0.025, GroupSequentialTest.CrossingProbability(Equal(looks),
            [.. Enumerable.Range(1, looks).Select(k => constant * Math.Sqrt((double)looks / k))]), 5e-5);

    // P. Armitage, C. K. McPherson and B. C. Rowe, J. Royal Statistical Society A 132 (1969) 235–244: repeated tests at two-sided 0.05,
    // that is 1.96 each time.
    [Theory]
    [InlineData(2, 0.083)]
    [InlineData(3, 0.107)]
    [InlineData(4, 0.126)]
    [InlineData(5, 0.142)]
    [InlineData(10, 0.193)]
    public void Looking_again_at_1_96_makes_errors_more_likely(int looks, double twoSided) =>
        Assert.Equal(0.5 * twoSided, GroupSequentialTest.CrossingProbability(Equal(looks), [.. Enumerable.Repeat(1.959964, looks)]), 1e-3);

    // The formulas themselves, worked out by hand: 2 − 2Φ(1.95996/√0.5) = 0.005575 and 0.05·ln(1 + (e − 1)/2) = 0.031006.
    [Fact]
    public void Spending_at_half_the_information()
    {
        Assert.Equal(0.005575, AlphaSpending.Spent(SpendingRule.OBrienFleming, 0.05, 0.5), 1e-6);
        Assert.Equal(0.031006, AlphaSpending.Spent(SpendingRule.Pocock, 0.05, 0.5), 1e-6);
    }

    private static double[] Equal(int looks) => [.. Enumerable.Range(1, looks).Select(k => (double)k / looks)];
}
