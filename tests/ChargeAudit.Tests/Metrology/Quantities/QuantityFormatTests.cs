using ChargeAudit.Metrology.Quantities;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Quantities;

public sealed class QuantityFormatTests
{
    private static Measured With(double value, string unit, double u) =>
        Measured.From(value, unit, [new(new InfluenceSource("run:1/noise"), u)]);

    [Theory]
    [InlineData(1.4997, 1.4847, 1.5148, "1", "1.500 (1.485 to 1.515)")]
    [InlineData(1.5, 1.3, 1.7, "1", "1.50 (1.30 to 1.70)")]
    [InlineData(13.1804, 13.1094, 13.2514, "Wh", "13.180 Wh (13.109 to 13.251)")]
    [InlineData(0.0123, 0.0101, 0.0145, "W", "12.3 mW (10.1 to 14.5)")]
    [InlineData(12345, 11111, 13579, "Wh", "12.3 kWh (11.1 to 13.6)")]
    [InlineData(1234, 1000, 1500, "EUR", "1230 EUR (1000 to 1500)")]
    [InlineData(0.0, -0.5, 0.5, "W", "0.00 W (-0.50 to 0.50)")]
    public void Value_and_interval_stop_at_the_same_place(double value, double low, double high, string unit, string expected) =>
        Assert.Equal(expected, QuantityFormat.WithInterval(value, low, high, unit));

    [Fact]
    public void An_unknown_uncertainty_is_said()
    {
        var unknown = Measured.Unknown(13.1834, "Wh", "meter bench states no accuracy of power");
        Assert.Equal("13.18 Wh (uncertainty unknown)", QuantityFormat.WithInterval(unknown));
        Assert.Equal("13.18 Wh (uncertainty unknown)", QuantityFormat.PlusMinus(unknown));
    }

    [Fact]
    public void Plus_minus_gives_half_the_interval()
    {
        // 1.959964 × 0.0361 = 0.0708
        Assert.Equal("13.180 ± 0.071 Wh", QuantityFormat.PlusMinus(With(13.18, "Wh", 0.0361)));
        Assert.Equal("13.180 Wh", QuantityFormat.Value(With(13.18, "Wh", 0.0361)));
    }

    [Theory]
    [InlineData(0.0996, 2)]
    [InlineData(0.0994, 3)]
    [InlineData(0.10, 2)]
    [InlineData(1.0, 1)]
    [InlineData(9.96, 0)]
    [InlineData(123, -1)]
    public void Two_digits_of_the_uncertainty_set_the_place(double uncertainty, int decimals) =>
        Assert.Equal(decimals, QuantityFormat.Decimals(uncertainty));

    [Theory]
    [InlineData(0.0123, "W", "12.3 mW")]
    [InlineData(0.25, "W", "0.25 W")]
    [InlineData(1500, "Wh", "1.5 kWh")]
    [InlineData(2.5e-5, "A", "25 µA")]
    [InlineData(-0.002, "V", "-2 mV")]
    [InlineData(1500, "EUR", "1500 EUR")]
    [InlineData(0.0123, "1", "0.0123")]
    [InlineData(0, "W", "0 W")]
    public void Prefixes_fit_the_size(double value, string unit, string expected) => Assert.Equal(expected, QuantityFormat.Prefixed(value, unit));

    [Fact]
    public void Nothing_is_written_as_minus_zero() => Assert.Equal("0.0 Wh (-1.0 to 1.0)", QuantityFormat.WithInterval(-0.001, -1.001, 0.999, "Wh"));
}
