using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

public sealed class FigureTextTests
{
    [Theory]
    [InlineData(19.8, 0.0969, "19.80 Wh (19.61 to 19.99)")]
    [InlineData(13.1812, 0.036, "13.181 Wh (13.111 to 13.252)")]
    [InlineData(12345, 260, "12350 Wh (11840 to 12850)")]
    [InlineData(0.000012, 0.0000011, "0.0000120 Wh (0.0000098 to 0.0000142)")]
    [InlineData(5, 0.0508, "5.00 Wh (4.90 to 5.10)")]
    [InlineData(-0.0004, 0.02, "0.000 Wh (-0.040 to 0.039)")]
    public void The_half_width_gets_two_digits_and_the_value_as_many_places(double value, double u, string expected) =>
        Assert.Equal(expected, FigureText.Of(Known(value, u)));

    [Theory]
    [InlineData(19.80314, "19.8 Wh")]
    [InlineData(0.000123456, "0.000123 Wh")]
    [InlineData(123456, "123000 Wh")]
    [InlineData(9.9996, "10.0 Wh")]
    [InlineData(0, "0 Wh")]
    [InlineData(double.NaN, "not a number Wh")]
    public void Without_uncertainty_three_digits_stand_and_no_interval(double value, string expected) =>
        Assert.Equal(expected, FigureText.Of(Measured.Unknown(value, "Wh", "nobody said")));

    [Fact]
    public void A_pure_number_has_no_unit_and_per_cent_has_one()
    {
        var ratio = Measured.From(0.858, "1", [new UncertaintyComponent(new InfluenceSource("a"), 0.007)]);
        Assert.Equal("0.858 (0.844 to 0.872)", FigureText.Of(ratio));
        Assert.Equal("85.8 % (84.4 to 87.2)", FigureText.Of(FigureText.Percent(ratio)));
    }

    [Theory]
    [InlineData(1.2, double.PositiveInfinity, "1.50 (1.20 or more)")]
    [InlineData(double.NegativeInfinity, 1.9, "1.50 (1.90 or less)")]
    [InlineData(double.NegativeInfinity, double.PositiveInfinity, "1.50 (without bounds)")]
    [InlineData(1.42, 1.66, "1.50 (1.42 to 1.66)")]
    public void An_interval_of_its_own_is_shown_as_it_is(double low, double high, string expected)
    {
        var ratio = Measured.From(1.5, "1", [new UncertaintyComponent(new InfluenceSource("a"), 0.06)])
            .WithInterval(c => new CoverageInterval(low, high, c, 2));
        Assert.Equal(expected, FigureText.Of(ratio));
    }

    [Fact]
    public void The_overhead_keeps_the_interval_of_its_ratio()
    {
        var ratio = Measured.From(1.5, "1", [new UncertaintyComponent(new InfluenceSource("a"), 0.06)])
            .WithInterval(c => new CoverageInterval(1.42, 1.66, c, 2));
        Assert.Equal("50 % (42 to 66)", FigureText.Of(FigureText.Overhead(ratio)));
        Assert.Equal("50.0 %", FigureText.Of(FigureText.Overhead(Measured.Unknown(1.5, "1", "nobody said"))));
    }

    [Fact]
    public void A_missing_figure_says_why() =>
        Assert.Equal("not known: no meter sat there", FigureText.Of(Figure.None("no meter sat there")));

    [Fact]
    public void An_exact_figure_has_no_interval() => Assert.Equal("8760 h", FigureText.Of(Measured.Exact(8760, "h")));

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void Every_culture_gets_the_same_text(string culture) => Assert.Equal(
        "19.80 Wh (19.61 to 19.99)|1\u00a0234\u00a0567|-0.500 W",
        Golden.Under(culture, () => $"{FigureText.Of(Known(19.8, 0.0969))}|{FigureText.Count(1234567)}|{FigureText.Plain(-0.5, "W")}"));

    [Theory]
    [InlineData(12, "12.0 s")]
    [InlineData(89.4, "89.4 s")]
    [InlineData(3599, "1 h 00 min")]
    [InlineData(90, "2 min")]
    [InlineData(7500, "2 h 05 min")]
    [InlineData(double.PositiveInfinity, "not known")]
    public void A_length_of_time_is_told_as_a_person_would(double seconds, string expected) =>
        Assert.Equal(expected, FigureText.Duration(seconds));

    private static Measured Known(double value, double u) =>
        Measured.From(value, "Wh", [new UncertaintyComponent(new InfluenceSource("a"), u)]);

    // Digits of the minor unit by ISO 4217: none for the yen, three for the Kuwaiti dinar, two for the euro.
    [Theory]
    [InlineData(325.14, "JPY", 6.0, "325 JPY (313 to 337)")]
    [InlineData(0.7312, "KWD", 0.05, "0.731 KWD (0.633 to 0.829)")]
    [InlineData(12.3456, "EUR", 0.001, "12.35 EUR (12.34 to 12.35)")]
    [InlineData(0.0123, "EUR", 0.001, "0.012 EUR (0.010 to 0.014)")]
    public void Money_has_its_currencys_digits_and_a_small_sum_is_not_lost(double value, string currency, double standard, string text) =>
        Assert.Equal(text, FigureText.Of(Measured.From(value, currency, [new UncertaintyComponent(new InfluenceSource("x"), standard)])));

    // Cents of a sum whose uncertainty nobody knows would claim what is not known.
    [Theory]
    [InlineData(221.2113, "EUR", "221 EUR")]
    [InlineData(22.1264, "EUR", "22.1 EUR")]
    [InlineData(2.2121, "EUR", "2.21 EUR")]
    [InlineData(0.0351, "EUR", "0.035 EUR")]
    [InlineData(0, "EUR", "0.00 EUR")]
    [InlineData(32514, "JPY", "32500 JPY")]
    public void Money_without_an_uncertainty_has_three_digits_at_most(double value, string currency, string text) =>
        Assert.Equal(text, FigureText.Of(Measured.Unknown(value, currency, "the accuracy of meter plug for power is not stated")));
}
