using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 100:2008, G.4.1, example: a product of three inputs (text from memory; unrounded figures worked out elsewhere). And two
/// small published examples.</summary>
public sealed class GumG4EffectiveDegreesOfFreedomChecks
{
    private static Measured Input(string name, double value, double u, double dof, string unit = "1") =>
        Measured.From(value, unit, [new(new InfluenceSource(name, dof), u)]);

    [Fact]
    public void A_product_of_three_inputs()
    {
        // Relative u 0.25 %, 0.57 %, 0.82 % from n = 10, 5, 15.
        Measured x1 = Input("x1", 1, 0.0025, 9), x2 = Input("x2", 1, 0.0057, 4), x3 = Input("x3", 1, 0.0082, 14);
        var y = Measured.Product(Measured.Product(x1, x2, "1"), x3, "1");

        Assert.Equal(1.03, 100 * y.StandardUncertainty!.Value, 0.005);
        Assert.Equal(19.0, y.DegreesOfFreedom!.Value, 0.05);
        Assert.Equal(2.2, 100 * (y.Interval()!.Value.High - 1), 0.05);

        // Unrounded.
        Assert.Equal(1.029466, 100 * y.StandardUncertainty.Value, 5e-7);
        Assert.Equal(18.9987, y.DegreesOfFreedom.Value, 5e-5);
        Assert.Equal(2.093024, StudentDistribution.TwoSidedFactor(0.95, 19), 5e-7);
        Assert.Equal(2.1547, 100 * (y.Interval()!.Value.High - 1), 1e-4);
    }

    [Fact]
    public void A_known_part_beside_an_estimated_one()
    {
        // 0.57 with 9 and 0.25 with infinitely many degrees of freedom: 12.8 (12.795649).
        var y = Measured.From(0, "1", [new(new InfluenceSource("a", 9), 0.57), new(new InfluenceSource("b"), 0.25)]);
        Assert.Equal(12.795649, y.DegreesOfFreedom!.Value, 5e-7);
    }

    [Fact]
    public void A_ratio_times_a_reference()
    {
        // Sandia, a published training example (read in suncal's tests): X1/X2·Yu → 0.6967, u 0.00494, ν about 27.7, U95 0.0101; unrounded
        // 0.69665167, 0.00493180, 27.5127.
        Measured x1 = Input("x1", 0.1820, 0.00093, 9), x2 = Input("x2", 0.1823, 0.00058, 19), reference = Input("yu", 0.6978, 0.0026, 19);
        var y = Measured.Product(Measured.Quotient(x1, x2), reference, "1");

        Assert.Equal(0.69665167, y.Value, 5e-9);
        Assert.Equal(0.00493180, y.StandardUncertainty!.Value, 5e-9);
        Assert.Equal(27.5127, y.DegreesOfFreedom!.Value, 5e-5);
        Assert.Equal(0.0101, y.Interval()!.Value.High - y.Value, 5e-5);
    }
}
