using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Bounds and error probabilities of tests that are looked at several times. The expected values were made by Debian's r-cran-rpact 3.3.4-1
/// (getDesignGroupSequential, one-sided) and r-cran-mvtnorm 1.1-3 (pmvnorm with an absolute error of 1e-7) under R 4.2.2; the papers named
/// beside them print the same figures with three or four digits.
/// </summary>
public sealed class GroupSequentialChecks
{
    // rpact, typeOfDesign "asOF" and "asP", kMax 5, alpha 0.025. K. K. G. Lan and D. L. DeMets, Biometrika 70 (1983).
    [Theory]
    [InlineData(SpendingRule.OBrienFleming, new[] { 4.876885, 3.357012, 2.680280, 2.289817, 2.031032 })]
    [InlineData(SpendingRule.Pocock, new[] { 2.437977, 2.426814, 2.410194, 2.396649, 2.386000 })]
    public void Bounds_of_spending_functions(SpendingRule rule, double[] expected)
    {
        var bounds = GroupSequentialTest.Bounds(rule, 0.025, [0.2, 0.4, 0.6, 0.8, 1]);
        Assert.All(expected.Zip(bounds), p => Assert.Equal(p.First, p.Second, 1e-5));
    }

    // The same of alpha 0.05 with informationRates of the looks at 3, 6, 9 and 12 runs beside a baseline of 5: 1/(1/n + 1/5) by the last.
    [Theory]
    [InlineData(SpendingRule.OBrienFleming, new[] { 2.448853, 1.984786, 1.851117, 1.790584 })]
    [InlineData(SpendingRule.Pocock, new[] { 1.846230, 1.999159, 2.063831, 2.100212 })]
    public void Bounds_of_looks_beside_a_baseline_that_all_of_them_share(SpendingRule rule, double[] expected)
    {
        double Information(int runs) => 1 / ((1.0 / runs) + (1.0 / 5));
        var bounds = GroupSequentialTest.Bounds(rule, 0.05, [.. new[] { 3, 6, 9, 12 }.Select(n => Information(n) / Information(12))]);
        Assert.All(expected.Zip(bounds), p => Assert.Equal(p.First, p.Second, 1e-5));
    }

    // rpact, typeOfDesign "P". S. J. Pocock, Biometrika 64 (1977) 191–199: one constant for all looks.
    [Theory]
    [InlineData(2, 2.178272)]
    [InlineData(3, 2.289478)]
    [InlineData(4, 2.361300)]
    [InlineData(5, 2.413180)]
    [InlineData(10, 2.555034)]
    public void Pococks_constants_spend_five_per_cent(int looks, double constant) =>
        Assert.Equal(0.025, GroupSequentialTest.CrossingProbability(Equal(looks), [.. Enumerable.Repeat(constant, looks)]), 5e-7);

    // rpact, typeOfDesign "OF". P. C. O'Brien and T. R. Fleming, Biometrics 35 (1979) 549–556: the constant times √(looks by look).
    [Theory]
    [InlineData(2, 1.977431)]
    [InlineData(3, 2.004036)]
    [InlineData(4, 2.024296)]
    [InlineData(5, 2.040073)]
    [InlineData(10, 2.086502)]
    public void O_Brien_and_Flemings_constants_spend_five_per_cent(int looks, double constant) => Assert.Equal(
        0.025, GroupSequentialTest.CrossingProbability(Equal(looks),
            [.. Enumerable.Range(1, looks).Select(k => constant * Math.Sqrt((double)looks / k))]), 5e-7);

    // mvtnorm: 1 minus the probability that none of so many looks crosses 1.959964, with the correlation √(i/j) of looks i and j.
    // P. Armitage, C. K. McPherson and B. C. Rowe, J. Royal Statistical Society A 132 (1969) 235–244, print both sides: 0.083, 0.107,
    // 0.126, 0.142, 0.193.
    [Theory]
    [InlineData(2, 0.0415589)]
    [InlineData(3, 0.0536292)]
    [InlineData(4, 0.0630896)]
    [InlineData(5, 0.0708591)]
    [InlineData(10, 0.096796)]
    public void Looking_again_at_1_96_makes_errors_more_likely(int looks, double oneSided) => Assert.Equal(oneSided,
        GroupSequentialTest.CrossingProbability(Equal(looks), [.. Enumerable.Repeat(1.959964, looks)]), looks == 10 ? 1e-5 : 1e-6);

    // The formulas themselves, worked out by hand: 2 − 2Φ(1.95996/√0.5) = 0.005575 and 0.05·ln(1 + (e − 1)/2) = 0.031006.
    [Fact]
    public void Spending_at_half_the_information()
    {
        Assert.Equal(0.005575, AlphaSpending.Spent(SpendingRule.OBrienFleming, 0.05, 0.5), 1e-6);
        Assert.Equal(0.031006, AlphaSpending.Spent(SpendingRule.Pocock, 0.05, 0.5), 1e-6);
    }

    private static double[] Equal(int looks) => [.. Enumerable.Range(1, looks).Select(k => (double)k / looks)];
}
