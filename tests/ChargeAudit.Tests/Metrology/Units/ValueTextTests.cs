using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Tests.Metrology.Units;

public sealed class ValueTextTests
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
    [InlineData("−5 C", "°C", -5)]
    [InlineData("296.15 K", "°C", 23)]
    [InlineData("50 °F", "°C", 10)]
    [InlineData("23 K/W", "K/W", 23)]
    [InlineData("0.01 watt", "W", 0.01)]
    [InlineData("500 µW", "W", 500e-6)]
    [InlineData("500 uW", "W", 500e-6)]
    [InlineData("2 MW", "W", 2e6)]
    [InlineData("5 kJ", "Wh", 5000 / 3600.0)]
    [InlineData("15.4 watt-hours", "Wh", 15.4)]
    [InlineData("3.85 Ah", "Ah", 3.85)]
    [InlineData("4700 kohm", "Ω", 4.7e6)]
    [InlineData("4.7 Mohm", "Ω", 4.7e6)]
    [InlineData("25 um", "mm", 0.025)]
    [InlineData("1 in", "mm", 25.4)]
    [InlineData("15 deg", "deg", 15)]
    public void Values_are_read_with_prefix_and_unit(string text, string unit, double expected)
    {
        Assert.True(ValueText.TryParse(text, unit, out double value));
        Assert.Equal(expected, value, 1e-14 * Math.Abs(expected));
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
    [InlineData("1.1 MH", "H")]
    [InlineData("5 MV", "V")]
    [InlineData("5 F", "°C")]
    [InlineData("5 m", "s")]
    [InlineData("5 C", "V")]
    [InlineData("5", "W")]
    public void A_missing_or_wrong_unit_is_not_guessed(string text, string unit) => Assert.False(ValueText.TryParse(text, unit, out _));

    [Theory]
    [InlineData("1.1MH", "H", "M means a million and m a thousandth: write mH if that is meant")]
    [InlineData("5 MV", "V", "M means a million and m a thousandth: write mV if that is meant")]
    [InlineData("5 kH", "Hz", null)]
    public void An_M_that_nobody_means_is_refused_with_a_hint(string text, string unit, string? expected)
    {
        Assert.False(ValueText.TryParse(text, unit, out _, out string? hint));
        Assert.Equal(expected, hint);
    }

    [Theory]
    [InlineData("0.1 % + 0.01 watt", 0.01)]
    [InlineData("0.1 % + 500 µW", 500e-6)]
    [InlineData("0.1 % + 500 uW", 500e-6)]
    public void A_data_sheet_takes_the_units_that_a_header_takes(string text, double fixedPart)
    {
        Assert.True(MeterAccuracy.TryParse(text, LogQuantity.Power, out var accuracy, out string? error), error);
        Assert.Equal(fixedPart, accuracy.Clauses[0].FixedPart(null)!.Value, 1e-15);
    }

    [Fact]
    public void A_data_sheets_megavolts_are_refused() =>
        Assert.False(MeterAccuracy.TryParse("0.1 % + 2 MV", LogQuantity.Voltage, out _, out _));
}
