using ChargeAudit.Pooling.RandomEffects;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>Several variances at once, with full covariance, against rma.mv of Debian's r-cran-metafor 3.8-1 (R 4.2.2; optim, BFGS, reltol
/// 1e-15: good to about 1e-6 of a variance).</summary>
public sealed class CrossedEffectsChecks
{
    // random = ~ 1 | device, with and without ~ 1 | charger; the mean is the only coefficient.
    [Theory]
    [InlineData(true, false, 0.003243327935, 0, 0.391479119, 0.0277867441)]
    [InlineData(true, true, 0.002695511437, 0.002869858625, 0.38902428, 0.0402352289)]
    [InlineData(false, false, 0.00139887129, 0, 0.383061144, 0.0205143637)]
    [InlineData(false, true, 0.002043973002, 0.002924492591, 0.388393644, 0.0390733716)]
    public void Devices_and_chargers_both_at_random(bool balanced, bool chargers, double ofDevices, double ofChargers, double mean,
        double u)
    {
        var (y, v, device, charger) = PooledData.CrossedSet(balanced);
        var model = new EffectsModel(y, [PooledData.Ones(y.Length)], v, chargers ? [device, charger] : [device]);
        var variances = VarianceComponents.Reml(model);
        var solution = model.At(variances);
        Assert.Equal(ofDevices, variances[0], 1e-8);
        Assert.Equal(ofChargers, chargers ? variances[1] : 0, 1e-8);
        Assert.Equal(mean, solution.Coefficients[0], 1e-7);
        Assert.Equal(u, Math.Sqrt(solution.Covariance[0, 0]), 1e-7);
    }

    // random = list(~ 1 | device, ~ 1 | cell): one of the variances ends at zero in the unbalanced set.
    [Theory]
    [InlineData(true, 0.001839517658, 0.002644117187, 0.389887804)]
    [InlineData(false, 0, 0.002558141596, 0.381529738)]
    public void Devices_and_the_cells_of_the_table(bool balanced, double ofDevices, double ofCells, double mean)
    {
        var (y, v, device, _) = PooledData.CrossedSet(balanced);
        var model = new EffectsModel(y, [PooledData.Ones(y.Length)], v, [device, [.. Enumerable.Range(0, y.Length)]]);
        var variances = VarianceComponents.Reml(model);
        Assert.Equal(ofDevices, variances[0], 1e-8);
        Assert.Equal(ofCells, variances[1], 1e-8);
        Assert.Equal(mean, model.At(variances).Coefficients[0], 1e-7);
    }

    // mods = ~ factor(charger) − 1, random = list(~ 1 | device, ~ 1 | cell).
    [Theory]
    [InlineData(true, 0.002678774915, new[] { 0.381613268, 0.446671329, 0.338544449 },
        new[] { 0.000724581176, 0.000627033012, 0.000625959529, 0.000715007019, 0.000626764049, 0.000730964926 })]
    [InlineData(false, 0.002146000524, new[] { 0.378350421, 0.449540512, 0.338262179 },
        new[] { 0.000670000478, 0.000515090155, 0.000519693788, 0.000740742836, 0.000499785409, 0.00067230931 })]
    public void Chargers_one_by_one_and_devices_at_random(bool balanced, double ofDevices, double[] chargers, double[] covariance)
    {
        var (y, v, device, charger) = PooledData.CrossedSet(balanced);
        double[][] design = [.. Enumerable.Range(0, 3).Select(c => charger.Select(x => x == c ? 1.0 : 0).ToArray())];
        var model = new EffectsModel(y, design, v, [device, [.. Enumerable.Range(0, y.Length)]]);
        var variances = VarianceComponents.Reml(model);
        var solution = model.At(variances);
        Assert.Equal(ofDevices, variances[0], 1e-8);
        Assert.Equal(0, variances[1], 1e-8);
        Assert.All(chargers.Zip(solution.Coefficients), c => Assert.Equal(c.First, c.Second, 1e-7));
        double[] upper = [.. from i in Enumerable.Range(0, 3) from j in Enumerable.Range(i, 3 - i) select solution.Covariance[i, j]];
        Assert.All(covariance.Zip(upper), c => Assert.Equal(c.First, c.Second, 1e-8));
    }

    // The published figures, 0.0651 and 0.0327 with a mean of 0.1847, to more digits by rma.mv.
    [Fact]
    public void Schools_within_districts()
    {
        int n = PooledData.School.Length;
        var model = new EffectsModel(PooledData.School, [PooledData.Ones(n)], PooledData.Diagonal(PooledData.SchoolVariances),
            [PooledData.District, [.. Enumerable.Range(0, n)]]);
        var variances = VarianceComponents.Reml(model);
        Assert.Equal(0.06506194428, variances[0], 1e-6);
        Assert.Equal(0.03273651703, variances[1], 1e-6);
        Assert.Equal(0.1847131637, model.At(variances).Coefficients[0], 1e-6);
        Assert.Equal(0.08455591874, Math.Sqrt(model.At(variances).Covariance[0, 0]), 1e-6);
    }

    // rma.uni with mods = ~ ablat and test = "knha".
    [Fact]
    public void The_BCG_trials_by_latitude()
    {
        int n = PooledData.Bcg.Length;
        var model = new EffectsModel(PooledData.Bcg, [PooledData.Ones(n), PooledData.BcgLatitude],
            PooledData.Diagonal(PooledData.BcgVariances), [[.. Enumerable.Range(0, n)]]);
        var variances = VarianceComponents.Reml(model);
        var solution = model.At(variances);
        Assert.Equal(0.07634796396, variances[0], 1e-8);
        Assert.Equal(0.25146821, solution.Coefficients[0], 1e-7);
        Assert.Equal(-0.02910172501, solution.Coefficients[1], 1e-8);
        double scale = solution.Q / model.DegreesOfFreedom;
        Assert.Equal(0.2839252837, Math.Sqrt(scale * solution.Covariance[0, 0]), 1e-7);
        Assert.Equal(0.008201417411, Math.Sqrt(scale * solution.Covariance[1, 1]), 1e-8);
    }

    // squeezeVar of Debian's r-bioc-limma 3.54.1.
    [Fact]
    public void Variances_of_few_runs_are_drawn_together()
    {
        double[] s = [1.2, 0.05, 12.6, 0.9, 3.3, 0.015, 1.7, 25], dof = [2, 2, 2, 4, 2, 2, 3, 2];
        var moderated = ModeratedVariance.Of(s, dof);
        Assert.Equal(0.990614532149, moderated.PriorDegreesOfFreedom, 1e-7);
        Assert.Equal(0.483541620347, moderated.PriorVariance, 1e-7);
        double[] posterior = [0.962679517893, 0.193606815519, 8.586530654474, 0.817334885261, 2.367073148316, 0.170200255012,
            1.398031133067, 16.879140662685];
        Assert.All(s.Zip(dof).Zip(posterior),
            c => Assert.Equal(c.Second, moderated.Apply(c.First.First, c.First.Second).Variance, 1e-6 * c.Second));

        var alike = ModeratedVariance.Of([1.2, 0.4, 2.6, 0.9, 3.3, 0.15, 1.7], [2, 2, 2, 2, 2, 2, 2]);
        Assert.True(double.IsInfinity(alike.PriorDegreesOfFreedom));
        Assert.Equal(1.46428571429, alike.PriorVariance, 1e-9);
    }
}
