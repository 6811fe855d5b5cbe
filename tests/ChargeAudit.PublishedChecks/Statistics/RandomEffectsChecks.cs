using ChargeAudit.Pooling.RandomEffects;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>Pooling over devices against Debian's r-cran-metafor 3.8-1 (R 4.2.2), rma.uni with a threshold of 1e-12, confint with a
/// tolerance of 1e-13.</summary>
public sealed class RandomEffectsChecks
{
    private static SpreadModel Bcg { get; } = new(PooledData.Bcg, PooledData.Diagonal(PooledData.BcgVariances));

    private static SpreadModel Stay { get; } = new(PooledData.Stay, PooledData.Diagonal(PooledData.StayVariances));

    [Fact]
    public void The_spread_of_the_BCG_trials_by_both_estimators_with_its_interval()
    {
        Assert.Equal(0.3132432581, SpreadEstimate.Reml(Bcg), 2e-8);
        Assert.Equal(0.3180684522, SpreadEstimate.PauleMandel(Bcg), 1e-8);
        var (low, high) = SpreadDistribution.Known(Bcg).Interval(0.95);
        Assert.Equal(0.1197183611, low, 1e-7);
        Assert.Equal(1.1114790841, high, 1e-6);
        Assert.Equal(152.2330081, Bcg.Q(0), 1e-6);
    }

    [Fact]
    public void The_mean_of_the_BCG_trials_by_Hartung_and_Knapp()
    {
        var mean = PooledMean.HartungKnapp(Bcg, SpreadEstimate.Reml(Bcg));
        Assert.Equal(-0.7145323422, mean.Mean, 1e-8);
        Assert.Equal(0.1807917441, mean.StandardUncertainty, 1e-8);
        Assert.Equal(12, mean.DegreesOfFreedom);
        Assert.Equal(0.1797815161, Math.Sqrt(Bcg.MeanVariance(mean.SpreadVariance)), 1e-8);
        double[] weights = [5.059482734, 6.364679373, 4.436027403, 9.698747019, 8.868456391, 10.09573854, 6.027181414, 10.18943904,
            8.743133212, 8.367607258, 9.925027, 3.821629063, 8.402851552];
        Assert.All(weights.Zip(mean.Weights), w => Assert.Equal(w.First / 100, w.Second, 1e-8));
        var pm = PooledMean.HartungKnapp(Bcg, SpreadEstimate.PauleMandel(Bcg));
        Assert.Equal(-0.7149681535, pm.Mean, 1e-8);
        Assert.Equal(0.1808921915, pm.StandardUncertainty, 1e-8);
    }

    // predict.rma takes as many degrees of freedom as the test of the mean has.
    [Fact]
    public void The_prediction_interval_of_the_BCG_trials_by_Student_s_t()
    {
        var mean = PooledMean.HartungKnapp(Bcg, SpreadEstimate.Reml(Bcg));
        var (low, high) =
            PredictionInterval.ByStudent(mean.Mean, mean.StandardUncertainty * mean.StandardUncertainty, mean.SpreadVariance, 12, 0.95);
        Assert.Equal(-1.996016834, low, 1e-7);
        Assert.Equal(0.5669521499, high, 1e-7);
        (low, high) = PredictionInterval.ByStudent(mean.Mean, Bcg.MeanVariance(mean.SpreadVariance), mean.SpreadVariance,
            double.PositiveInfinity, 0.95);
        Assert.Equal(-1.866692218, low, 1e-7);
        Assert.Equal(0.4376275336, high, 1e-7);
    }

    // The manual page of pima_hts (package pimeta 1.1.1) on the systolic blood pressure set of R. D. Riley and others, BMJ 342 (2011) d549,
    // ten studies: mean −0.3341, τ² 0.0282, the mean's interval −0.5068 to −0.1613 (t of nine) and the next study's −0.7598 to 0.0917. The
    // set itself was not available.
    [Fact]
    public void The_published_prediction_interval_of_a_moment_estimate_has_two_degrees_of_freedom_less_than_studies()
    {
        double u = (0.5068 - 0.1613) / 2 / 2.262157;
        var (low, high) = PredictionInterval.ByStudent(-0.3341, u * u, 0.0282, 10 - 2, 0.95);
        Assert.Equal(-0.7598, low, 1e-3);
        Assert.Equal(0.0917, high, 1e-3);
    }

    // R 4.2.2: 200 000 draws of χ², Student's t and the normal distribution, those without a spread counted half; the ends are good to
    // about 0.01 of the width. No spread has 79 % of the draws of the first four trials.
    [Theory]
    [InlineData("bcg", -2.0592, 0.6177)]
    [InlineData("stay", -81.975, 51.561)]
    [InlineData("bcg, first four", -2.2531, -0.4635)]
    public void The_prediction_interval_by_the_confidence_distribution_is_that_of_draws(string set, double low, double high)
    {
        var model = set == "bcg" ? Bcg : set == "stay" ? Stay : FirstFour(1);
        var found = PredictionInterval.ByConfidenceDistribution(SpreadDistribution.Known(model), 0, 0.95);
        Assert.Equal(low, found.Low, 0.012 * (high - low));
        Assert.Equal(high, found.High, 0.012 * (high - low));
    }

    // The same with variances known but for a common factor of 8 or 6 degrees of freedom, drawn as ν/χ². The first set's variances are
    // doubled, since otherwise the effect would not show.
    [Theory]
    [InlineData(false, 8, -1.8703, 0.4703, 0.0297, 0.9365)]
    [InlineData(true, 6, -2.2101, -0.4904, 0, 0.9141)]
    public void Variances_of_unsure_size_are_drawn_as_well(bool four, double freedom, double low, double high, double leastSpread,
        double greatestSpread)
    {
        var distribution = SpreadDistribution.Of(f => four ? FirstFour(f)
            : new SpreadModel(PooledData.Bcg, PooledData.Diagonal([.. PooledData.BcgVariances.Select(v => 2 * f * v)])), freedom);
        var found = PredictionInterval.ByConfidenceDistribution(distribution, 0, 0.95);
        Assert.Equal(low, found.Low, 0.012 * (high - low));
        Assert.Equal(high, found.High, 0.012 * (high - low));
        var spread = distribution.Interval(0.95);
        Assert.Equal(leastSpread, spread.Low, 0.02);
        Assert.Equal(greatestSpread, spread.High, 0.03 * greatestSpread);
    }

    private static SpreadModel FirstFour(double factor) =>
        new(PooledData.Bcg[..4], PooledData.Diagonal([.. PooledData.BcgVariances[..4].Select(v => factor * v)]));

    // Heat of vaporisation of cadmium by five laboratories, and a material by two with six and two repeats: the worked examples of R. C.
    // Paule, J. Mandel, J. Research NBS 87 (1982) 377–385, with the data as the manual page of mpaule (R's metRology) repeats them.
    // Expected values by rma.uni of r-cran-metafor 3.8-1 (method PM and REML, tolerance 1e-13); with two laboratories they are elementary:
    // τ² = (Δ² − v₁ − v₂)/2.
    [Fact]
    public void Interlaboratory_examples_of_Paule_and_Mandel()
    {
        var cadmium = new SpreadModel([27.044, 26.022, 26.340, 26.787, 26.796], PooledData.Diagonal([0.003, 0.076, 0.464, 0.003, 0.014]));
        double spread = SpreadEstimate.PauleMandel(cadmium);
        Assert.Equal(0.1052193882, spread, 1e-8);
        Assert.Equal(26.71212875, cadmium.Mean(spread), 1e-7);
        Assert.Equal(0.1711369636, Math.Sqrt(cadmium.MeanVariance(spread)), 1e-8);
        Assert.Equal(0.09958784056, SpreadEstimate.Reml(cadmium), 1e-7);
        var (low, high) = SpreadDistribution.Known(cadmium).Interval(0.95);
        Assert.Equal(0.01200251, low, 1e-6);
        Assert.Equal(1.30809173, high, 1e-5);

        double first = 0.154 * 0.154 / 6, second = 0.25 * 0.25 / 2, apart = 216.55 - 201.533;
        var two = new SpreadModel([201.533, 216.55], PooledData.Diagonal([first, second]));
        Assert.Equal(0.5 * ((apart * apart) - first - second), SpreadEstimate.PauleMandel(two), 1e-8);
        Assert.Equal(209.0405911, two.Mean(SpreadEstimate.PauleMandel(two)), 1e-6);
    }

    [Fact]
    public void Days_in_hospital()
    {
        Assert.Equal(684.6461519, SpreadEstimate.Reml(Stay), 1e-4);
        Assert.Equal(728.2511286, SpreadEstimate.PauleMandel(Stay), 1e-5);
        var (low, high) = SpreadDistribution.Known(Stay).Interval(0.95);
        Assert.Equal(292.9181216569, low, 1e-5);
        Assert.Equal(2889.4513491216, high, 1e-4);
        var mean = PooledMean.HartungKnapp(Stay, SpreadEstimate.Reml(Stay));
        Assert.Equal(-15.10602747, mean.Mean, 1e-6);
        Assert.Equal(9.198908747, mean.StandardUncertainty, 1e-6);
        Assert.Equal(-36.31874908, mean.Mean - (2.306004135 * mean.StandardUncertainty), 1e-5);
    }

    [Fact]
    public void Leaving_out_one_of_the_BCG_trials()
    {
        double[] means =
            [-0.7070837847, -0.6540312003, -0.6855544108, -0.6284093698, -0.7641700951, -0.7108765556, -0.6552475998, -0.7947676045,
                -0.7411972993, -0.6530329153, -0.7578586267, -0.7598120993, -0.7775361849];
        for (int left = 0; left < means.Length; left++)
        {
            int[] rest = [.. Enumerable.Range(0, means.Length).Where(i => i != left)];
            var model = new SpreadModel([.. rest.Select(i => PooledData.Bcg[i])],
                PooledData.Diagonal([.. rest.Select(i => PooledData.BcgVariances[i])]));
            Assert.Equal(means[left], model.Mean(SpreadEstimate.Reml(model)), 1e-6);
        }
    }

    // Equal variances give the plain mean, its scatter and the t of as many degrees of freedom: Paule and Mandel's τ² is then s² less the
    // variance.
    [Fact]
    public void With_equal_variances_all_is_that_of_the_plain_mean()
    {
        double[] y = [1, 2, 4, 7];
        var model = new SpreadModel(y, PooledData.Diagonal([2, 2, 2, 2]));
        Assert.Equal(7 - 2, SpreadEstimate.PauleMandel(model), 1e-10);
        Assert.Equal(7 - 2, SpreadEstimate.Reml(model), 1e-10);
        Assert.Equal(Math.Sqrt(7.0 / 4), PooledMean.HartungKnapp(model, 5).StandardUncertainty, 1e-12);
    }

    // R 4.2.2: uniroot on (y − μ)ᵀ(V + τ²I)⁻¹(y − μ) with solve() for the full covariance, and optimize for the likelihood.
    [Theory]
    [InlineData(true, 0.00178945002561, 0.00397140751131, 0.011033260326, 0.00390742330617)]
    [InlineData(false, 0.000876937721185, 0.002484676399, 0.00906998398233, 0.00255814284801)]
    public void With_a_full_covariance_the_profile_of_Q_is_that_of_generalised_least_squares(bool balanced, double low, double middle,
        double high, double reml)
    {
        var (y, v, _, _) = PooledData.CrossedSet(balanced);
        var model = new SpreadModel(y, v);
        var profile = SpreadDistribution.Known(model).Interval(0.95);
        Assert.Equal(low, profile.Low, 1e-9);
        Assert.Equal(middle, SpreadEstimate.PauleMandel(model), 1e-9);
        Assert.Equal(high, profile.High, 1e-9);
        Assert.Equal(reml, SpreadEstimate.Reml(model), 1e-9);
    }
}
