using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// JCGM 101:2008, 9.2: additive models. The interval of every figure, with the factor of <see cref="CoverageFactor"/> and its
/// ErrorConvolution, beside the guide's propagation of distributions. Table values are from memory; the exact ones are closed forms or
/// large independent runs worked out elsewhere.
/// </summary>
public sealed class Jcgm101AdditiveModelChecks
{
    private static Measured Input(string name, double value, double u, ErrorShape shape = ErrorShape.Normal) =>
        Measured.From(value, "1", [new(new InfluenceSource(name, Shape: shape), u)]);

    [Theory]
    [InlineData(ErrorShape.Normal, 1.0, 3.92, 3.919928)]
    [InlineData(ErrorShape.Rectangular, 1.0, 3.88, 3.8794067)]
    [InlineData(ErrorShape.Rectangular, 10.0, 17.0, 17.0158)]
    public void Clause_9_2_additive_models(ErrorShape shape, double lastU, double published, double exact)
    {
        Measured[] inputs = [Input("x1", 0, 1, shape), Input("x2", 0, 1, shape), Input("x3", 0, 1, shape), Input("x4", 0, lastU, shape)];
        double u = Math.Sqrt(3 + (lastU * lastU));

        Assert.Equal(published, exact, 0.02);

        // 2e-4: the grid of the convolution.
        var sum = inputs[0] + inputs[1] + inputs[2] + inputs[3];
        Assert.Equal(exact, sum.Interval()!.Value.High, 2e-4 * u);
    }

    [Fact]
    public void Clause_9_2_4_students_factor_would_be_too_wide()
    {
        // GUF ±19.9 against ±17.0: the reason why the shapes are kept.
        var sum = Input("x1", 0, 1, ErrorShape.Rectangular) + Input("x2", 0, 1, ErrorShape.Rectangular)
            + Input("x3", 0, 1, ErrorShape.Rectangular)
            + Input("x4", 0, 10, ErrorShape.Rectangular);
        Assert.Equal(10.1, sum.StandardUncertainty!.Value, 0.05);
        Assert.Equal(19.8915, 1.959964 * sum.StandardUncertainty.Value, 5e-5);
        Assert.True(sum.Interval()!.Value.High < 17.1);
    }
}
