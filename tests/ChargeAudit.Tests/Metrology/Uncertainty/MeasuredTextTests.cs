using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

/// <summary>How a figure prints itself. Digits by JCGM 100:2008, 7.2.6; k of a normal distribution at 95 % is 1.96; the numbers are rounded
/// by hand.</summary>
public sealed class MeasuredTextTests
{
    [Fact]
    public void Without_an_uncertainty_it_says_why_and_shows_no_digits_that_mean_nothing() =>
        Assert.Equal("19.27 Wh (uncertainty not known: no accuracy is stated)",
            Measured.Unknown(19.273294166666666, "Wh", "no accuracy is stated").ToString());

    // 1.96 × 0.0656 = 0.1286; 1.96 × 0.0508 = 0.0996, which is 0.10 to two digits; 1.96 × 63 = 123.5; 1.96 × 0.00051 = 0.0009996.
    [Theory]
    [InlineData(19.273294, 0.0656, "19.27 Wh ± 0.13 Wh (95 %, k = 1.96)")]
    [InlineData(5.4321, 0.0508, "5.43 Wh ± 0.10 Wh (95 %, k = 1.96)")]
    [InlineData(12345, 63, "12350 Wh ± 120 Wh (95 %, k = 1.96)")]
    [InlineData(0, 0.00051, "0.0000 Wh ± 0.0010 Wh (95 %, k = 1.96)")]
    [InlineData(-2.345, 0.5, "-2.35 Wh ± 0.98 Wh (95 %, k = 1.96)")]
    public void The_expanded_uncertainty_has_two_digits_and_the_value_ends_where_it_does(double value, double standardUncertainty,
        string text) =>
        Assert.Equal(text, Measured.From(value, "Wh", [new(new InfluenceSource("noise"), standardUncertainty)]).ToString());

    [Fact]
    public void A_pure_number_has_no_unit() =>
        Assert.Equal("1.506 ± 0.014 (95 %, k = 1.96)", Measured.From(1.506, "1", [new(new InfluenceSource("noise"), 0.00714)]).ToString());

    [Fact]
    public void What_is_exact_stands_as_it_is() => Assert.Equal("3600 J", Measured.Exact(3600, "J").ToString());

    [Fact]
    public void A_missing_figure_says_why() =>
        Assert.Equal("none: no meter sat at the wall", Figure.None("no meter sat at the wall").ToString());

    [Fact]
    public void A_figure_says_what_it_rests_on() =>
        Assert.Equal("3600 J, assuming an efficiency of 0.85", Figure.Of(Measured.Exact(3600, "J"), "an efficiency of 0.85").ToString());
}
