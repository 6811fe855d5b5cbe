using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// JCGM 101:2008, clause 9: propagation of distributions. Table values of 9.2.4, 9.3 and 9.4 are from memory; the exact ones are closed
/// forms or large independent runs
/// worked out elsewhere. Tolerances are what the number of trials leaves open, stated beside each.
/// </summary>
public sealed class Jcgm101MonteCarloChecks
{
    private static readonly MonteCarloOptions Many = new() { FewestTrials = 1_000_000, MostTrials = 1_000_000 };

    private static Measured Input(string name, double value, double u, ErrorShape shape = ErrorShape.Normal) =>
        Measured.From(value, "1", [new(new InfluenceSource(name, Shape: shape), u)]);

    private static Measured Between(string name, double low, double high) => Input(name, 0.5 * (low + high), 0.5 * (high - low) / Math.Sqrt(3), ErrorShape.Rectangular);

    private static double Sum(ReadOnlySpan<double> x)
    {
        double sum = 0;
        foreach (double v in x)
        {
            sum += v;
        }

        return sum;
    }

    [Theory]
    [InlineData(ErrorShape.Normal, 1.0, 3.92, 3.919928)]
    [InlineData(ErrorShape.Rectangular, 1.0, 3.88, 3.8794067)]
    [InlineData(ErrorShape.Rectangular, 10.0, 17.0, 17.0158)]
    public void Clause_9_2_additive_models(ErrorShape shape, double lastU, double published, double exact)
    {
        Measured[] inputs = [Input("x1", 0, 1, shape), Input("x2", 0, 1, shape), Input("x3", 0, 1, shape), Input("x4", 0, lastU, shape)];
        double u = Math.Sqrt(3 + (lastU * lastU));

        // Drawn: an end's standard deviation is about √(0.025·0.975/M)/density ≈ 0.003 u at a million; 0.01 u is three of them.
        var drawn = MonteCarlo.Run(Sum, inputs, Many);
        Assert.Equal(u, drawn.StandardUncertainty, 0.005 * u);
        Assert.Equal(published, drawn.Symmetric.High, 0.01 * u);
        Assert.Equal(-published, drawn.Symmetric.Low, 0.01 * u);

        // Not drawn: the interval that figures carry. 2e-4: the grid of the convolution.
        var sum = inputs[0] + inputs[1] + inputs[2] + inputs[3];
        Assert.Equal(exact, sum.Interval()!.Value.High, 2e-4 * u);
    }

    [Fact]
    public void Clause_9_2_4_students_factor_would_be_too_wide()
    {
        // GUF ±19.9 against ±17.0: the trap that the shapes are kept for.
        var sum = Input("x1", 0, 1, ErrorShape.Rectangular) + Input("x2", 0, 1, ErrorShape.Rectangular) + Input("x3", 0, 1, ErrorShape.Rectangular)
            + Input("x4", 0, 10, ErrorShape.Rectangular);
        Assert.Equal(10.1, sum.StandardUncertainty!.Value, 0.05);
        Assert.Equal(19.8915, 1.959964 * sum.StandardUncertainty.Value, 5e-5);
        Assert.True(sum.Interval()!.Value.High < 17.1);
    }

    [Fact]
    public void Clause_9_3_mass_calibration()
    {
        Measured[] inputs =
        [
            Input("m", 100_000, 0.050), Input("dm", 1.234, 0.020), Between("air", 1.10, 1.30), Between("weight", 7000, 9000), Between("reference", 7950, 8050),
        ];
        var result = Propagation.Evaluate(
            x => ((x[0] + x[1]) * (1 + ((x[2] - 1.2) * ((1 / x[3]) - (1 / x[4]))))) - 100_000, inputs, "mg", Many);

        Assert.Equal(0.0539, result.FirstOrderUncertainty, 5e-5);
        Assert.Equal(0.0750, result.SecondOrderUncertainty, 5e-4);
        Assert.Equal(PropagationMethod.MonteCarlo, result.Method);
        Assert.Equal(1.2341, result.Check.Mean, 3e-4);
        Assert.Equal(0.0754, result.Check.StandardUncertainty, 4e-4);

        // The shortest interval's place is flat, so its ends are looser than its length: published [1.0834, 1.3825], a run of two million
        // [1.0837, 1.3828].
        Assert.Equal(1.0834, result.Check.Shortest.Low, 2e-3);
        Assert.Equal(1.3825, result.Check.Shortest.High, 2e-3);
        Assert.Equal(1.3825 - 1.0834, result.Check.Shortest.High - result.Check.Shortest.Low, 1.5e-3);
    }

    [Theory]
    [InlineData(0.000, 50, 50, 0, 149.79)]
    [InlineData(0.010, 150, 111.8, 0, 366.0)]
    [InlineData(0.050, 2550, 502.5, 1587.7, 3542.9)]
    public void Clause_9_4_comparison_loss(double x1, double mean, double u, double low, double high)
    {
        // Units of 1e-6. A sum of squares near zero: the first-order term vanishes at x1 = 0. 1 %: the ends of the shortest interval at a
        // million trials, the
        // distribution being flat there (checked against their spread over seeds).
        var result = Propagation.Evaluate(x => 1e6 * ((x[0] * x[0]) + (x[1] * x[1])), [Input("x1", x1, 0.005), Input("x2", 0, 0.005)], "1", Many);

        Assert.Equal(1e6 * 2 * x1 * 0.005, result.FirstOrderUncertainty, 1e-6 * u);
        Assert.Equal(u, result.SecondOrderUncertainty, 1e-3 * u);
        Assert.Equal(mean, result.Check.Mean, 0.01 * u);
        Assert.Equal(u, result.Check.StandardUncertainty, 0.01 * u);
        Assert.Equal(low, result.Check.Shortest.Low, 0.03 * u);
        Assert.Equal(high, result.Check.Shortest.High, 0.03 * u);
        Assert.Equal(PropagationMethod.MonteCarlo, result.Method);
        Assert.Equal(result.Check.Shortest, result.Value.Interval()!.Value);
    }

    [Fact]
    public void Logarithm_of_a_wide_rectangular_input()
    {
        // NPL Report DEM-ES-011, 9.2 (read in suncal's tests): y = ln x, x rectangular on [0.1, 1.1]: by derivatives −0.511, u 0.481; drawn
        // −0.665, u 0.606,
        // shortest [−1.895, 0.095]. Exact −0.664900, 0.606227, [−1.897120, 0.095310].
        var result = Propagation.Evaluate(x => Math.Log(x[0]), [Between("x", 0.1, 1.1)], "1", Many);

        Assert.Equal(0.481, result.FirstOrderUncertainty, 5e-4);
        Assert.Equal(-0.664900, result.Check.Mean, 0.002);
        Assert.Equal(0.606227, result.Check.StandardUncertainty, 0.002);
        Assert.Equal(-1.897120, result.Check.Shortest.Low, 0.01);
        Assert.Equal(0.095310, result.Check.Shortest.High, 0.001);
        Assert.Equal(PropagationMethod.MonteCarlo, result.Method);
    }
}
