using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 100:2008, H.1: calibration of an end gauge, l = l_S + d − l_S(δα·θ + α_S·δθ). All lengths in nm.</summary>
public sealed class GumH1EndGaugeChecks
{
    private static readonly double Root3 = Math.Sqrt(3);

    private static readonly Measured Standard = Input("standard", 50_000_623, 25, 18);

    private static readonly Measured Difference = Measured.From(215, "nm",
    [
        new(new InfluenceSource("observations", 24), 5.8),
        new(new InfluenceSource("comparator-random", 5), 3.9),
        new(new InfluenceSource("comparator-systematic", 8), 6.7),
    ]);

    private static readonly Measured Expansion = Input("expansion", 11.5e-6, 2e-6 / Root3, double.PositiveInfinity, ErrorShape.Rectangular);
    private static readonly Measured ExpansionDifference = Input("expansion-difference", 0, 1e-6 / Root3, 50, ErrorShape.Rectangular);
    private static readonly Measured TemperatureDifference = Input("temperature-difference", 0, 0.05 / Root3, 2, ErrorShape.Rectangular);

    private static readonly Measured Temperature = Measured.From(-0.1, "K",
    [
        new(new InfluenceSource("mean-temperature"), 0.2),
        new(new InfluenceSource("cycle", Shape: ErrorShape.Arcsine), 0.5 / Math.Sqrt(2)),
    ]);

    private static Measured Input(string name, double value, double u, double dof, ErrorShape shape = ErrorShape.Normal) =>
        Measured.From(value, "1", [new(new InfluenceSource(name, dof, Shape: shape), u)]);

    private static double Length(ReadOnlySpan<double> x) => x[0] + x[1] - (x[0] * ((x[2] * x[3]) + (x[4] * x[5])));

    private static Measured FirstOrder()
    {
        double ls = Standard.Value;
        return Measured.Combine(
            Length([ls, Difference.Value, 0, -0.1, 11.5e-6, 0]), "nm",
            (1, Standard), (1, Difference), (-ls * Temperature.Value, ExpansionDifference), (0, Temperature), (0, Expansion),
                (-ls * 11.5e-6, TemperatureDifference));
    }

    [Fact]
    public void Components_and_combined_uncertainty()
    {
        var l = FirstOrder();
        double Of(string id) => Math.Abs(l.Components.Single(c => c.Source.Id == id).SignedStandardUncertainty);

        Assert.Equal(50_000_838, l.Value, 1e-6);
        Assert.Equal(25, Of("standard"), 1e-9);
        Assert.Equal(9.7, Difference.StandardUncertainty!.Value, 0.05);
        Assert.Equal(9.681942, Difference.StandardUncertainty.Value, 5e-7);
        Assert.Equal(2.9, Of("expansion-difference"), 0.05);
        Assert.Equal(16.6, Of("temperature-difference"), 0.05);
        Assert.Equal(32, l.StandardUncertainty!.Value, 0.5);
        Assert.Equal(31.663879, l.StandardUncertainty.Value, 5e-7);
    }

    [Fact]
    public void Effective_degrees_of_freedom()
    {
        // Printed 25.6 from rounded components; unrounded 25.447. Printed 16.7; unrounded 16.75.
        Assert.Equal(25.447, Difference.DegreesOfFreedom!.Value, 5e-4);
        Assert.Equal(16.75, FirstOrder().DegreesOfFreedom!.Value, 0.005);
    }

    [Fact]
    public void Expanded_uncertainty_at_99_percent()
    {
        // The guide cuts 16.7 down to 16, takes t99(16) = 2.9208 and multiplies it by the rounded 32: 93 nm. Unrounded that is 92.5.
        var l = FirstOrder();
        Assert.Equal(2.9208, StudentDistribution.TwoSidedFactor(0.99, 16), 5e-5);
        Assert.Equal(93, 32 * StudentDistribution.TwoSidedFactor(0.99, Math.Floor(l.DegreesOfFreedom!.Value)), 0.5);

        // Ours rounds nothing and keeps the fraction: 91.9 nm. The guide's 32 for 31.66 and 16 for 16.75 make 1.1 % and 0.6 % of the
        // difference.
        double ours = l.Interval(0.99)!.Value.High - l.Value;
        double asRounded = ours * (32 / 31.663879)
            * (StudentDistribution.TwoSidedFactor(0.99, 16) / StudentDistribution.TwoSidedFactor(0.99, 16.75));
        Assert.Equal(93, asRounded, 0.5);
    }

    [Fact]
    public void Rounded_components_give_another_number_of_degrees()
    {
        // The trap: 32⁴ over the rounded 25, 9.7, 2.9, 16.6 is 17.47, not 16.75.
        double rounded = Math.Pow(32, 4)
            / ((Math.Pow(25, 4) / 18) + (Math.Pow(9.7, 4) / 25.6) + (Math.Pow(2.9, 4) / 50) + (Math.Pow(16.6, 4) / 2));
        Assert.Equal(17.47, rounded, 0.005);
        Assert.NotEqual(rounded, FirstOrder().DegreesOfFreedom!.Value, 0.5);
    }
}
