using ChargeAudit.Coils;
using ChargeAudit.Metrology.Units;
using CsCheck;

namespace ChargeAudit.Tests.Coils;

public sealed class SiValueTests
{
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
                Assert.True(ValueText.TryParse(SiValue.Format(value, "Hz", 9), "Hz", out double back));
                Assert.Equal(1, back / value, 1e-8);
            },
            iter: 500,
            seed: "0000000000001");
}
