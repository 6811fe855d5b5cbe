using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using CsCheck;

namespace ChargeAudit.Tests.Metrology.Statistics;

public sealed class StatisticsTests
{
    [Fact]
    public void Quantile_and_tail_undo_each_other() => Gen.Select(Gen.Double[0.0005, 0.4995], Gen.Double[0.6, 300]).Sample(
        (tail, dof) => Assert.Equal(tail, StudentDistribution.UpperTail(StudentDistribution.Quantile(1 - tail, dof), dof), 1e-10),
        iter: 300,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Far_out_in_the_tail_of_one_degree_of_freedom_the_closed_form_holds()
    {
        // P(T > t) = 1/2 − atan(t)/π; at 1e-9 a search bounded at a few hundred fails.
        Assert.Equal(1 / Math.Tan(Math.PI * 1e-9), StudentDistribution.Quantile(1e-9, 1) * -1, 1e-3);
        Assert.Equal(0, StudentDistribution.Quantile(0.5, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentDistribution.Quantile(1, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentDistribution.Quantile(0.9, 0));
    }

    [Fact]
    public void Shifting_the_values_shifts_only_the_mean() =>
        Gen.Select(Gen.Double[-1, 1].Array[2, 30], Gen.Int[-1_000_000, 1_000_000]).Sample(
        (values, shift) =>
        {
            var there = SampleStatistics.Of(values.Select(v => v + shift).ToArray());
            var here = SampleStatistics.Of(values);
            Assert.Equal(here.Mean + shift, there.Mean, 1e-9);
            Assert.Equal(here.StandardDeviation, there.StandardDeviation, 1e-9);
        },
        iter: 200,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Too_few_values_have_no_scatter()
    {
        Assert.True(double.IsNaN(SampleStatistics.Of([3]).StandardDeviation));
        Assert.True(double.IsNaN(SampleStatistics.Of([]).Mean));
        Assert.Equal(3, SampleStatistics.Of([3]).Mean);
    }

    [Fact]
    public void Dependence_inflates_and_never_deflates()
    {
        // √(1.9/0.1) = 4.358899: closed form.
        Assert.Equal(4.358899, Autocorrelation.InflationFactor(0.9), 5e-7);
        Assert.Equal(1, Autocorrelation.InflationFactor(-0.9));
    }

    [Fact]
    public void Moving_blocks_find_the_uncertainty_of_a_dependent_mean()
    {
        // AR(1), ρ 0.8, unit innovations: u(mean) → 1/((1 − ρ)√n) = 0.05 for n = 10 000. Own congruential noise: any will do.
        var values = new double[10_000];
        ulong state = 88172645463325252;
        double last = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double sum = -6;
            for (int j = 0; j < 12; j++)
            {
                state ^= state << 13;
                state ^= state >> 7;
                state ^= state << 17;
                sum += (state >> 11) * (1.0 / (1UL << 53));
            }

            values[i] = last = (0.8 * last) + sum;
        }

        // 100 blocks' worth of freedom: a relative standard deviation of about 1/√200 = 7 %; three of them.
        Assert.Equal(0.05, Autocorrelation.MovingBlockStandardError(values, 100), 0.05 * 0.21);
        Assert.Equal(0.8, Autocorrelation.Lag1(values), 0.03);
        Assert.True(double.IsNaN(Autocorrelation.MovingBlockStandardError([1, 2], 2)));
    }

    [Fact]
    public void A_trend_is_found_and_ties_are_counted()
    {
        // 5 values rising: S = 10, Var = 5·4·15/18 = 16.667 (closed form).
        var rising = MannKendall.Of([1, 2, 3, 4, 5]);
        Assert.Equal(10, rising.S);
        Assert.Equal(300.0 / 18, rising.Variance, 1e-12);
        Assert.Equal(9 / Math.Sqrt(300.0 / 18), rising.Z, 1e-12);

        // One pair of ties takes 2·1·9/18 = 1 off.
        Assert.Equal((300.0 / 18) - 1, MannKendall.Of([1, 2, 2, 3, 4]).Variance, 1e-12);
        Assert.Equal(0, MannKendall.Of([2, 2, 2, 2]).Z);
        Assert.Equal(1, MannKendall.Of([2, 2, 2, 2]).TwoSidedP);
        Assert.Equal(-rising.Z, MannKendall.Of([5, 4, 3, 2, 1]).Z, 1e-12);
    }

    [Fact]
    public void Adjusted_probabilities_keep_the_order_and_the_textbook_steps()
    {
        // 0.01·4, then max with 0.02·3, 0.03·2, 0.04·1 = 0.04, 0.06, 0.06, 0.06 (by hand).
        double[] adjusted = HolmAdjustment.Adjust([0.04, 0.01, 0.03, 0.02]);
        double[] expected = [0.06, 0.04, 0.06, 0.06];
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(expected[i], adjusted[i], 1e-12);
        }

        Assert.Equal(1, HolmAdjustment.Adjust([0.9, 0.8])[0]);
    }

    // Near t = 0 the library works from dof / (dof + t²), which rounds to 1 once t² is below 1e-16: its tail is then off by the density
    // times t, 1.5e-8.
    [Fact]
    public void Noncentral_t_without_noncentrality_is_students() => Gen.Select(Gen.Double[-4, 4], Gen.Int[1, 60]).Sample(
        (t, dof) => Assert.Equal(StudentDistribution.UpperTail(-t, dof), TestPower.NoncentralLowerTail(t, dof, 0), 3e-8),
        iter: 100,
        seed: "0000KOIKFq6O");

    [Theory]
    // scipy.stats.nct.cdf, version 1.10.1.
    [InlineData(2.0, 5, 1.0, 0.7780746626)]
    [InlineData(3.0, 10, 2.5, 0.6365823805)]
    [InlineData(-0.5, 3, 1.5, 0.0270430034)]
    public void Noncentral_t_agrees_with_an_outside_computation(double t, double dof, double delta, double expected) =>
        Assert.Equal(expected, TestPower.NoncentralLowerTail(t, dof, delta), 1e-7);

    [Fact]
    public void A_plane_through_exact_points_is_found_exactly()
    {
        double[] x1 = [1000, 1001, 1002, 1003, 1004, 1005];
        double[] x2 = [0.1, 0.4, 0.2, 0.9, 0.3, 0.7];
        double[] y = [.. x1.Zip(x2, (a, b) => 3 + (2 * a) - (5 * b))];
        var fit = LeastSquaresFit.Columns([x1, x2], y);
        Assert.Equal(3, fit.Coefficients[0], 1e-7);
        Assert.Equal(2, fit.Coefficients[1], 1e-10);
        Assert.Equal(-5, fit.Coefficients[2], 1e-10);
        Assert.Equal(3, fit.DegreesOfFreedom);
        Assert.Throws<ArgumentException>(() => LeastSquaresFit.Columns([x1, x1], y));
        Assert.Throws<ArgumentException>(() => LeastSquaresFit.Line([1, 1, 1], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => LeastSquaresFit.Line([1], [1]));
        Assert.Throws<ArgumentException>(() => LeastSquaresFit.Line([1, 2, 3], [1, 2]));
        Assert.Throws<ArgumentException>(() => fit.At(1));
    }

    [Fact]
    public void The_edge_between_bounded_and_exclusive_has_one_end_at_infinity()
    {
        // b² = t²v_b: A = 0, B = ab, C = a² − t²v_a → one limit at C/(2B).
        var set = Assert.IsType<RatioSet.Exclusive>(Fieller.Of(3, 0.25, 2, 1, 0, 2));
        Assert.Equal(double.NegativeInfinity, set.UpTo);
        Assert.Equal((9 - 1) / 12.0, set.From, 1e-12);
    }
}
