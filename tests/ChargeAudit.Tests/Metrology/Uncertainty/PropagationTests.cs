using ChargeAudit.Metrology.Uncertainty;
using CsCheck;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class PropagationTests
{
    private static readonly MonteCarloOptions Few = new() { FewestTrials = 50_000, MostTrials = 50_000 };

    private static Measured Input(string name, double value, double u, ErrorShape shape = ErrorShape.Normal, double dof = double.PositiveInfinity) =>
        Measured.From(value, "Wh", [new(new InfluenceSource(name, dof, Shape: shape), u)]);

    [Fact]
    public void A_linear_model_gives_the_same_both_ways() => Gen.Select(Gen.Double[-3, 3], Gen.Double[-3, 3], Gen.Double[0.1, 2], Gen.Double[0.1, 2]).Sample(
        (a, b, u1, u2) =>
        {
            Measured x = Input("x", 10, u1), y = Input("y", 5, u2, ErrorShape.Rectangular);
            var result = Propagation.Evaluate(v => (a * v[0]) + (b * v[1]), [x, y], "Wh", Few);
            double expected = Math.Sqrt((a * a * u1 * u1) + (b * b * u2 * u2));

            Assert.Equal(expected, result.FirstOrderUncertainty, 1e-9);
            Assert.Equal(expected, result.SecondOrderUncertainty, 1e-6);

            // 50 000 trials: a relative standard deviation of 1/√(2·50 000) = 0.32 %; four of them.
            Assert.Equal(expected, result.Check.StandardUncertainty, 0.013 * expected);
        },
        iter: 10,
        seed: "0000KOIKFq6O");

    [Fact]
    public void A_source_in_two_inputs_is_drawn_once()
    {
        var gain = new InfluenceSource("meter:bench/power-gain", Shared: true);
        Measured a = Measured.From(19.8, "Wh", [new(gain, 0.099)]), b = Measured.From(13.2, "Wh", [new(gain, 0.066)]);
        var result = MonteCarlo.Run(v => v[0] / v[1], [a, b], Few);
        Assert.Equal(0, result.StandardUncertainty, 1e-12);
        Assert.Equal(1.5, result.Mean, 1e-12);
    }

    [Fact]
    public void The_same_seed_gives_the_same_digits_and_another_seed_others()
    {
        Measured[] inputs = [Input("x", 1, 0.1), Input("y", 2, 0.1, ErrorShape.Triangular)];
        var first = MonteCarlo.Run(v => v[0] * v[1], inputs, Few);
        Assert.Equal(first, MonteCarlo.Run(v => v[0] * v[1], inputs, Few));
        Assert.NotEqual(first.Mean, MonteCarlo.Run(v => v[0] * v[1], inputs, Few with { Seed = 2 }).Mean);
    }

    [Fact]
    public void Trials_go_on_until_the_digits_stand()
    {
        var result = MonteCarlo.Run(v => v[0], [Input("x", 0, 1)]);
        Assert.True(result.Stable);
        Assert.InRange(result.Trials, 100_000, 1_000_000);
        Assert.Equal(0.05, MonteCarlo.NumericalTolerance(1.04, 2));
        Assert.Equal(0.0005, MonteCarlo.NumericalTolerance(0.0754, 2), 1e-12);

        // Heavy tails (one degree of freedom has no standard deviation) never become stable, and that is said.
        Assert.False(MonteCarlo.Run(v => v[0], [Input("x", 0, 1, dof: 1)], Few).Stable);
    }

    [Theory]
    [InlineData(ErrorShape.Normal, double.PositiveInfinity, 1.0)]
    [InlineData(ErrorShape.Rectangular, double.PositiveInfinity, 1.0)]
    [InlineData(ErrorShape.Triangular, double.PositiveInfinity, 1.0)]
    [InlineData(ErrorShape.Arcsine, double.PositiveInfinity, 1.0)]
    [InlineData(ErrorShape.Normal, 10.0, 1.1180)]
    public void Each_shape_is_drawn_with_its_standard_deviation(ErrorShape shape, double dof, double deviation)
    {
        // Student's t has the standard deviation √(ν/(ν − 2)); 1 %: three standard deviations of 50 000 trials.
        var result = MonteCarlo.Run(v => v[0], [Input("x", 0, 1, shape, dof)], Few);
        Assert.Equal(deviation, result.StandardUncertainty, 0.015 * deviation);
        Assert.Equal(0, result.Mean, 0.02);
    }

    [Fact]
    public void Limits_only_known_to_a_share_are_drawn_wider()
    {
        // Curvilinear trapezoid: variance a²/3 + d²/9 with d/a = √(1.5/ν): for ν = 2 the deviation is √(1 + 0.75/3) = 1.118.
        var result = MonteCarlo.Run(v => v[0], [Input("x", 0, 1, ErrorShape.Rectangular, 2)], Few);
        Assert.Equal(1.118, result.StandardUncertainty, 0.015);
    }

    [Fact]
    public void An_unknown_uncertainty_cannot_be_drawn() =>
        Assert.Throws<ArgumentException>(() => MonteCarlo.Run(v => v[0], [Measured.Unknown(1, "Wh", "no meter is named")]));

    [Fact]
    public void A_good_denominator_is_a_plain_quotient()
    {
        Measured a = Input("a", 19.8, 0.1), b = Input("b", 13.2, 0.066);
        Assert.Equal(Measured.Quotient(a, b).StandardUncertainty, Propagation.Ratio(a, b).StandardUncertainty);
    }

    [Fact]
    public void A_poor_denominator_gets_its_lopsided_interval()
    {
        // b = 1 ± 0.1 (normal): the quantiles of 1/b are those of b turned round: 1/(1 ± 0.196).
        var ratio = Propagation.Ratio(Measured.Exact(1, "Wh"), Input("b", 1, 0.1));
        var interval = ratio.Interval()!.Value;
        Assert.True(interval.High - ratio.Value > 1.1 * (ratio.Value - interval.Low));
        var drawn = MonteCarlo.Run(v => 1 / v[0], [Input("b", 1, 0.1)]);
        Assert.Equal(1 / 1.195996, drawn.Symmetric.Low, 0.005);
        Assert.Equal(1 / 0.804004, drawn.Symmetric.High, 0.01);
        Assert.Contains(ratio.Components, c => c.Source.Id == "ratio/curvature");
        Assert.True(ratio.Interval(0.99)!.Value.High > interval.High);
    }

    [Fact]
    public void A_denominator_that_may_be_zero_has_no_interval()
    {
        var ratio = Propagation.Ratio(Input("a", 1, 0.1), Input("b", 1, 0.4));
        Assert.Null(ratio.Interval());
        Assert.Contains("cannot be told from zero", ratio.UnknownBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Correlations_are_those_asked_for()
    {
        var pair = CorrelatedInputs.Of("obs", [(1, 0.1, "V"), (2, 0.3, "A")], new double[,] { { 1, -0.4 }, { -0.4, 1 } });
        Assert.Equal(-0.4, CorrelatedInputs.Correlation(pair[0], pair[1]), 1e-12);
        Assert.Equal(0.1, pair[0].StandardUncertainty!.Value, 1e-12);
        Assert.Equal(0.3, pair[1].StandardUncertainty!.Value, 1e-12);
        Assert.Equal(0, CorrelatedInputs.Correlation(pair[0], Measured.Exact(1, "V")));
    }

    [Fact]
    public void What_cannot_be_correlations_is_refused()
    {
        (double, double, string)[] three = [(1, 0.1, "V"), (2, 0.3, "A"), (3, 0.1, "1")];
        Assert.Throws<ArgumentException>(() => CorrelatedInputs.Of("obs", three, new double[,] { { 1, 0 }, { 0, 1 } }));
        Assert.Throws<ArgumentException>(() => CorrelatedInputs.Of("obs", three[..2], new double[,] { { 1, 0.5 }, { 0.4, 1 } }));
        Assert.Throws<ArgumentException>(() => CorrelatedInputs.Of("obs", three, new double[,] { { 1, 0.9, -0.9 }, { 0.9, 1, 0.9 }, { -0.9, 0.9, 1 } }));
        Assert.Throws<ArgumentException>(() => CorrelatedInputs.FromReadings("obs", [([1, 2], "V"), ([1], "A")]));
    }

    [Fact]
    public void Conformity_of_a_figure_without_uncertainty_is_plain()
    {
        Assert.Equal(1, Conformity.ProbabilityBelow(Measured.Exact(0.28, "W"), 0.3));
        Assert.Equal(0, Conformity.ProbabilityBelow(Measured.Exact(0.32, "W"), 0.3));
        Assert.Null(Conformity.ProbabilityBelow(Measured.Unknown(0.28, "W", "no meter is named"), 0.3));
    }
}
