using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using CsCheck;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class CoverageFactorTests
{
    private static UncertaintyComponent Part(string id, double u, ErrorShape shape = ErrorShape.Rectangular,
        double dof = double.PositiveInfinity) =>
        new(new InfluenceSource(id, dof, Shape: shape), u);

    [Theory]
    [InlineData(0.95)]
    [InlineData(0.99)]
    [InlineData(0.5)]
    public void One_rectangular_error_alone_reaches_to_its_share_of_the_limit(double coverage) =>
        Assert.Equal(coverage * Math.Sqrt(3), CoverageFactor.Of([Part("a", 0.7)], coverage), 1e-12);

    [Fact]
    public void One_triangular_error_alone()
    {
        // P(|X| ≤ x) = 1 − (1 − x/a)²; a = √6 u.
        Assert.Equal(Math.Sqrt(6) * (1 - Math.Sqrt(0.05)), CoverageFactor.Of([Part("a", 2, ErrorShape.Triangular)], 0.95), 1e-12);
    }

    [Fact]
    public void One_arcsine_error_alone()
    {
        Assert.Equal(Math.Sqrt(2) * Math.Sin(0.5 * Math.PI * 0.95), CoverageFactor.Of([Part("a", 2, ErrorShape.Arcsine)], 0.95), 1e-12);
    }

    [Fact]
    public void Two_equal_rectangular_errors_make_a_triangle() =>
        Assert.Equal(Math.Sqrt(6) * (1 - Math.Sqrt(0.05)), CoverageFactor.Of([Part("a", 1), Part("b", 1)], 0.95), 1e-7);

    [Fact]
    public void Four_equal_rectangular_errors()
    {
        // JCGM 101:2008, 9.2.3: the half-width at u = 1 each is 2√3(2 − (3/5)^¼) (closed form), and u of the sum is 2.
        double k = CoverageFactor.Of([Part("a", 1), Part("b", 1), Part("c", 1), Part("d", 1)], 0.95);
        Assert.Equal(Math.Sqrt(3) * (2 - Math.Pow(0.6, 0.25)), k, 1e-9);
    }

    [Fact]
    public void A_dominant_rectangular_error_among_smaller_ones()
    {
        // JCGM 101:2008, 9.2.4: u 1, 1, 1 and 10; exact 17.0158, where Student's t would give 19.89.
        Assert.Equal(17.0158 / 10.148892, CoverageFactor.Of([Part("a", 1), Part("b", 1), Part("c", 1), Part("d", 10)], 0.95), 1e-5);
    }

    [Fact]
    public void Normal_errors_keep_the_normal_factor_and_estimated_ones_students()
    {
        Assert.Equal(1.959963985, CoverageFactor.Of([Part("a", 3, ErrorShape.Normal), Part("b", 4, ErrorShape.Normal)], 0.95), 1e-8);
        Assert.Equal(2.776445, CoverageFactor.Of([Part("a", 3, ErrorShape.Normal, 4)], 0.95), 1e-6);
    }

    [Fact]
    public void A_rectangular_and_a_normal_error_agree_with_the_closed_form() => Gen.Double[0.1, 10].Sample(
        ratio =>
        {
            // F(k) of R(±a) + N(0, σ): [σG((k + a)/σ) − σG((k − a)/σ)]/2a with G(z) = zΦ(z) + φ(z).
            double total = Math.Sqrt(1 + (ratio * ratio)), sigma = 1 / total, a = ratio * Math.Sqrt(3) / total;
            double k = CoverageFactor.Of([Part("a", 1, ErrorShape.Normal), Part("b", ratio)], 0.95);
            double G(double z) =>
                (z * StudentDistribution.UpperTail(-z, double.PositiveInfinity)) + (Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI));
            double f = sigma * (G((k + a) / sigma) - G((k - a) / sigma)) / (2 * a);

            Assert.Equal(0.975, f, 1e-10);
        },
        iter: 40,
        seed: "0000KOIKFq6O");

    [Fact]
    public void The_factor_does_not_jump_where_a_part_becomes_small()
    {
        double last = 0;
        for (double share = 0.001; share < 0.2; share *= 1.05)
        {
            double k = CoverageFactor.Of([Part("a", Math.Sqrt(1 - share), ErrorShape.Normal, 2), Part("b", Math.Sqrt(share))], 0.95);
            if (last > 0)
            {
                Assert.InRange(k / last, 0.97, 1.01);
            }

            last = k;
        }
    }

    [Fact]
    public void A_scatter_from_few_runs_lies_between_the_two_rules()
    {
        UncertaintyComponent[] parts = [Part("a", 1, ErrorShape.Normal), Part("b", 1, ErrorShape.Normal, 2)];
        double byEffectiveDof = StudentDistribution.TwoSidedFactor(0.95, 8);
        Assert.InRange(CoverageFactor.Of(parts, 0.95), byEffectiveDof, StudentDistribution.TwoSidedFactor(0.95, 2));
    }

    // Two equal parts, one normal and one from three runs: t at 2/(½)² = 8 degrees of freedom is 2.3060041; P(|Z + T₂| ≤ √2·k) = 0.95 at k
    // = 3.2759534 (the distribution function of T₂ is ½ + x/(2√(2 + x²)); integrated over the normal density elsewhere). The first counts
    // 0.5 − 0.35/2 = 0.325, the second the rest: exp(0.325·ln 2.3060041 + 0.675·ln 3.2759534) = 2.92269.
    [Fact]
    public void A_scatter_from_three_runs_beside_an_equal_known_part_has_a_weighted_geometric_mean_of_both_rules() =>
        Assert.Equal(2.92269, CoverageFactor.Of([Part("a", 1, ErrorShape.Normal), Part("b", 1, ErrorShape.Normal, 2)], 0.95), 2e-3);

    // With two runs the factor of the plain geometric mean holds 92.1 % where a known part is a fifth of the scatter of their mean. The
    // estimate s of the scatter (true value 1) is χ distributed; for each s the interval is k·√(s² + r²), and what it holds is the normal
    // probability averaged over the known part.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    public void Whatever_the_known_part_the_interval_of_few_runs_holds_its_share(int dof)
    {
        foreach (double known in new[] { 0.1, 0.2, 0.3, 0.5, 1, 2, 5 })
        {
            const int Steps = 60;
            double holds = 0;
            for (int i = 0; i < Steps; i++)
            {
                double s = Math.Sqrt(ChiSquared.InvCDF(dof, (i + 0.5) / Steps) / dof);
                double half = CoverageFactor.Of([Part("scatter", s, ErrorShape.Normal, dof), Part("meter", known)], 0.95)
                    * Math.Sqrt((s * s) + (known * known));
                for (int j = 0; j < 100; j++)
                {
                    double error = known * Math.Sqrt(3) * (((j + 0.5) / 50) - 1);
                    holds += (Normal.CDF(0, 1, half - error) - Normal.CDF(0, 1, -half - error)) / (100 * Steps);
                }
            }

            Assert.InRange(holds, 0.942, 0.992);
        }
    }

    [Fact]
    public void Scaling_all_errors_leaves_the_factor() => Gen.Select(Gen.Double[0.01, 100], Gen.Double[0.1, 2], Gen.Double[0.1, 2]).Sample(
        (scale, a, b) => Assert.Equal(
            CoverageFactor.Of([Part("a", a), Part("b", b, ErrorShape.Normal, 4)], 0.95),
            CoverageFactor.Of([Part("a", scale * a), Part("b", scale * b, ErrorShape.Normal, 4)], 0.95),
            1e-9),
        iter: 20,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Nothing_uncertain_gives_an_interval_of_no_width()
    {
        var interval = Measured.Exact(3, "Wh").Interval()!.Value;
        Assert.Equal(3, interval.Low);
        Assert.Equal(3, interval.High);
    }

    // JCGM 100:2008, G.4.1: (3² + 4²)² / (3⁴/4 + 4⁴/9) = 625/48.694444 = 12.835140, in either order.
    [Fact]
    public void Two_estimated_parts_have_the_degrees_of_freedom_of_Welch_and_Satterthwaite()
    {
        UncertaintyComponent[] parts = [Part("a", 3, ErrorShape.Normal, 4), Part("b", 4, ErrorShape.Normal, 9)];
        Assert.Equal(12.835140, CoverageFactor.EffectiveDegreesOfFreedom(parts), 1e-6);
        Assert.Equal(12.835140, CoverageFactor.EffectiveDegreesOfFreedom([parts[1], parts[0]]), 1e-6);
    }

    [Fact]
    public void Inputs_observed_together_count_their_freedom_once_and_are_named()
    {
        InfluenceSource one = new("obs/1", 4) { ObservedTogether = "the five readings" }, two = new("obs/2", 4)
        {
            ObservedTogether = "the five readings",
        };
        var figure = Measured.From(1, "V", [new(one, 3), new(two, 4)]);
        Assert.Equal(4, figure.DegreesOfFreedom!.Value, 1e-12);
        Assert.Contains("the five readings", CoverageFactor.Warning(figure), StringComparison.Ordinal);
        Assert.Null(CoverageFactor.Warning(Measured.From(1, "V", [Part("a", 1, ErrorShape.Normal, 4)])));
    }

    [Fact]
    public void A_stated_interval_survives_a_change_of_unit_and_nothing_else()
    {
        var stated = Measured.From(2, "Wh", [Part("a", 0.1)]).WithInterval(c => new CoverageInterval(1.7, 2.1, c, 2));
        Assert.Equal(1700, stated.In("mWh", 1000).Interval()!.Value.Low, 1e-9);
        Assert.NotEqual(1.7, (stated + Measured.Exact(0, "Wh")).Interval()!.Value.Low);
        Assert.Equal(-2.1, (-1 * stated).Interval()!.Value.Low, 1e-12);
    }
}
