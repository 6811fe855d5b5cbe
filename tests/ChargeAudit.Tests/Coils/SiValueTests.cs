using ChargeAudit.Coils;
using CsCheck;

namespace ChargeAudit.Tests.Coils;

public sealed class SiValueTests
{
    [Theory]
    [InlineData("1.1mH", "H", 1.1e-3)]
    [InlineData("1.1 mH", "H", 1.1e-3)]
    [InlineData("24 uH", "H", 24e-6)]
    [InlineData("24 µH", "H", 24e-6)]
    [InlineData("100nF", "F", 100e-9)]
    [InlineData("127.7 kHz", "Hz", 127.7e3)]
    [InlineData("190 mohm", "Ω", 0.19)]
    [InlineData("6 Ω", "Ω", 6)]
    [InlineData("25 min", "s", 1500)]
    [InlineData("1.5 h", "s", 5400)]
    [InlineData("70 ms", "s", 0.07)]
    [InlineData("5 m", "m", 5)]
    [InlineData("4.5 mm", "m", 0.0045)]
    [InlineData("0.5 %", "1", 0.005)]
    [InlineData("4 ppm", "1", 4e-6)]
    [InlineData("1e-3 H", "H", 1e-3)]
    [InlineData("1.5 kWh", "Wh", 1500)]
    [InlineData("-5 °C", "°C", -5)]
    public void Values_are_read_with_prefix_and_unit(string text, string unit, double expected)
    {
        Assert.True(SiValue.TryParse(text, unit, out double value));
        Assert.Equal(expected, value, 1e-15 * Math.Abs(expected));
    }

    [Theory]
    [InlineData("1.1", "H")]
    [InlineData("1.1 mF", "H")]
    [InlineData("1.1 xH", "H")]
    [InlineData("1.1 mmin", "s")]
    [InlineData("", "H")]
    [InlineData("mH", "H")]
    [InlineData("1,1 mH", "H")]
    [InlineData("1e999 H", "H")]
    [InlineData("NaN H", "H")]
    public void A_missing_or_wrong_unit_is_not_guessed(string text, string unit) => Assert.False(SiValue.TryParse(text, unit, out _));

    [Theory]
    [InlineData(1.1e-3, "H", 3, "1.10 mH")]
    [InlineData(15174.6, "Hz", 4, "15.17 kHz")]
    [InlineData(999.96, "Hz", 4, "1.000 kHz")]
    [InlineData(64.7213e-9, "F", 4, "64.72 nF")]
    [InlineData(0.0471, "Ω", 2, "47 mΩ")]
    [InlineData(0, "H", 4, "0 H")]
    [InlineData(-2.5e-6, "H", 2, "-2.5 µH")]
    public void Values_are_written_with_the_fitting_prefix(double value, string unit, int digits, string expected) =>
        Assert.Equal(expected, SiValue.Format(value, unit, digits));

    [Fact]
    public void What_is_written_is_read_back_to_its_digits() =>
        Gen.Double[-11, 9].Sample(
            exponent =>
            {
                double value = Math.Pow(10, exponent);
                Assert.True(SiValue.TryParse(SiValue.Format(value, "F", 9), "F", out double back));
                Assert.Equal(1, back / value, 1e-8);
            },
            iter: 500,
            seed: "0000000000001");
}
