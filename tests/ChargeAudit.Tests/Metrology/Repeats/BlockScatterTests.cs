using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Repeats;

public class BlockScatterTests
{
    // By hand: days of 10, 12 and 14, 18: means 11 and 16, mean 13.5. Within (1 + 1 + 4 + 4)/2 = 5; means scatter by 12.5, so between
    // 12.5 − 5/2 = 10, and the mean has 12.5/2 with one degree of freedom.
    [Fact]
    public void Two_days_of_two_runs_are_worked_out_by_hand()
    {
        var scatter = BlockScatter.Of([10, 12, 14, 18], ["Mon", "Mon", "Tue", "Tue"]);
        Assert.Equal((13.5, 5, 10, 6.25, 1), (scatter.Mean, scatter.VarianceWithin, scatter.VarianceBetween, scatter.VarianceOfMean,
            scatter.DegreesOfFreedom));
    }

    // A day of one run counts as much as a day of three: (10 + 20)/2.
    [Fact]
    public void Each_block_counts_alike()
    {
        var scatter = BlockScatter.Of([9, 10, 11, 20], ["Mon", "Mon", "Mon", "Tue"]);
        Assert.Equal(15, scatter.Mean);
        Assert.Equal([1.0 / 6, 1.0 / 6, 1.0 / 6, 0.5], scatter.Weights);
    }

    [Fact]
    public void A_block_a_run_is_the_scatter_of_runs()
    {
        double[] values = [13.1, 13.4, 13.2, 13.9];
        var blocks = BlockScatter.Of(values, ["a", "b", "c", "d"]);
        var plain = ChargeAudit.Metrology.Statistics.SampleStatistics.Of(values);
        Assert.Equal(plain.VarianceOfMean, blocks.VarianceOfMean, 12);
        Assert.Equal((3, null), (blocks.DegreesOfFreedom, blocks.VarianceWithin));
    }

    // Satterthwaite by hand: means 10, 0 and 0 of 2, 6 and 3 runs, within 5.4545, between 33.3333 − 5.4545 · (1/2 + 1/6 + 1/3)/3 = 31.5152.
    // The means' variances are 34.2424, 32.4242 and 33.3333, so ν = 4 · 33.3333²/(3334.98/3 + 33.3333²) = 1.9995.
    [Fact]
    public void Blocks_of_unlike_size_have_fewer_degrees_of_freedom()
    {
        double d = Math.Sqrt(6 * 8 / 11.0);
        double[] values = [10 - d, 10 + d, -d, d, -d, d, -d, d, 0, d, -d];
        string[] blocks = ["a", "a", "b", "b", "b", "b", "b", "b", "c", "c", "c"];
        var scatter = BlockScatter.Of(values, blocks);
        double within = scatter.VarianceWithin!.Value;
        Assert.Equal(10 * d * d / 8, within, 9);
        Assert.Equal((100 / 3.0) - (within / 3), scatter.VarianceBetween!.Value, 9);
        Assert.Equal(1.9995, scatter.DegreesOfFreedom, 1e-4);
    }

    // Days that agree to the last digit: what the runs within them scatter by is left, with its own degrees of freedom.
    [Fact]
    public void Days_that_agree_by_luck_do_not_shorten_the_interval()
    {
        var scatter = BlockScatter.Of([9, 11, 9, 11], ["Mon", "Mon", "Tue", "Tue"]);
        Assert.Equal((0, 2, 0.5, 2), (scatter.VarianceBetween, scatter.VarianceWithin, scatter.VarianceOfMean, scatter.DegreesOfFreedom));
    }

    // Three runs of one evening, and three days: the same numbers, and a scatter that stands for something else.
    [Fact]
    public void The_mean_of_runs_takes_days_for_what_repeats()
    {
        Measured[] runs = [.. new[] { 10.0, 12, 14, 18 }.Select(v => Measured.Exact(v, "Wh"))];
        var source = InfluenceSource.ScatterOf("pad", "wall");
        var mean = Repeatability.Combine(runs, source, ["Mon", "Mon", "Tue", "Tue"]);
        var part = Assert.Single(mean.Mean.Components);
        Assert.Equal((2.5, 1, 2, true),
            (part.SignedStandardUncertainty, part.Source.DegreesOfFreedom, part.Source.Observations, part.Source.InBlocks));
        var plain = Assert.Single(Repeatability.Combine(runs, source).Mean.Components);
        Assert.Equal(3, plain.Source.DegreesOfFreedom);
        Assert.True(plain.SignedStandardUncertainty < 2.5);
        Assert.Contains("more blocks (days, set-ups) with runs of method pad", Budget.Of(mean.Mean).Advice, StringComparison.Ordinal);
    }

    // Within 1, between 4: ten days of one leave t(9)·√(4/10 + 1/10), two of five t(1)·√(4/2 + 1/10). Student's t from tables: 2.262,
    // 12.706.
    [Fact]
    public void More_blocks_tell_more_than_more_runs()
    {
        var ways = NextRuns.Of(10, 1, 4);
        Assert.Equal([(10, 1), (5, 2), (2, 5), (1, 10)], ways.Select(w => (w.Blocks, w.RunsEach)));
        Assert.Equal(2.262 * Math.Sqrt(0.5), ways[0].HalfWidth, 1e-3);
        Assert.Equal(12.706 * Math.Sqrt(2.1), ways[2].HalfWidth, 1e-2);
        Assert.Equal(double.PositiveInfinity, ways[3].HalfWidth);
    }
}
