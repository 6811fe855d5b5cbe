using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using CsCheck;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class MeterAccuracyTests
{
    private static readonly string[] Words =
    [
        "0.05", "%", "+", " ", "ppm", "of", "range", "3 A", "2 mV", "digits", "below", "else", "1 W",
        "normal", "k=2", "resolution", ",", "±", "-", "1e3", "(", ")", "x", "é",
    ];

    [Theory]
    [InlineData("0.05 % + 2 mV", LogQuantity.Voltage, 5, 0.0045)]
    [InlineData("±0.05% + 2mV", LogQuantity.Voltage, 5, 0.0045)]
    [InlineData("0.05 % of reading + 0.002 V", LogQuantity.Voltage, -5, 0.0045)]
    [InlineData("0.5 % of 3 A", LogQuantity.Current, 1, 0.015)]
    [InlineData("0.1 % + 0.5 % of 3 A range", LogQuantity.Current, 1, 0.016)]
    [InlineData("50 ppm", LogQuantity.Time, 3600, 0.18)]
    [InlineData("0.02 W", LogQuantity.Power, 7, 0.02)]
    [InlineData("1 % of reading + 3 digits, resolution 0.01 W", LogQuantity.Power, 10, 0.13)]
    [InlineData("1 % + 10 uA", LogQuantity.Current, 1, 0.01001)]
    [InlineData("1 % + 10 µA", LogQuantity.Current, 1, 0.01001)]
    [InlineData("2 % below 1 W else 1 %", LogQuantity.Power, 0.5, 0.01)]
    [InlineData("2 % below 1 W else 1 %", LogQuantity.Power, 1, 0.01)]
    [InlineData("2 % below 1 W else 1 %", LogQuantity.Power, 50, 0.5)]
    [InlineData("0.02 W below 1 W else 2 % below 100 W else 3 %", LogQuantity.Power, 0.3, 0.02)]
    [InlineData("0.02 W below 1 W else 2 % below 100 W else 3 %", LogQuantity.Power, 200, 6)]
    [InlineData("0.01", LogQuantity.PowerFactor, 0.5, 0.01)]
    [InlineData("1 % + 10 mWh", LogQuantity.Energy, 36000, 396)]
    public void Half_width_at_a_reading(string text, LogQuantity quantity, double reading, double halfWidth)
    {
        Assert.True(MeterAccuracy.TryParse(text, quantity, out var accuracy, out string? error), error);
        Assert.Equal(halfWidth, accuracy.HalfWidthAt(reading)!.Value, 1e-12 * Math.Max(1, halfWidth));
    }

    [Theory]
    [InlineData("1 %", ErrorShape.Rectangular, 0.577350269)]
    [InlineData("1 % rectangular", ErrorShape.Rectangular, 0.577350269)]
    [InlineData("1 % triangular", ErrorShape.Triangular, 0.408248290)]
    [InlineData("1 % (arcsine)", ErrorShape.Arcsine, 0.707106781)]
    [InlineData("1 %, normal k=2", ErrorShape.Normal, 0.5)]
    [InlineData("1 % (normal, k = 2.58)", ErrorShape.Normal, 0.387596899)]
    [InlineData("2 % below 1 W else 1 % normal k=2", ErrorShape.Normal, 0.5)]
    public void Limits_become_standard_uncertainties_by_their_distribution(string text, ErrorShape shape, double factor)
    {
        Assert.True(MeterAccuracy.TryParse(text, LogQuantity.Power, out var accuracy, out string? error), error);
        Assert.Equal(shape, accuracy.Shape);
        Assert.Equal(factor, accuracy.StandardPerHalfWidth, 1e-9);
    }

    [Fact]
    public void Digits_need_the_step_of_the_display()
    {
        Assert.True(MeterAccuracy.TryParse("1 % + 3 digits", LogQuantity.Power, out var accuracy, out _));
        Assert.Null(accuracy.HalfWidthAt(10));
        Assert.Equal(0.103, accuracy.HalfWidthAt(10, resolution: 0.001)!.Value, 1e-12);
    }

    [Theory]
    [InlineData("", "the accuracy is empty; expected the data sheet's words, such as '0.05 % + 2 mV'")]
    [InlineData("0,05 %", "the accuracy '0,05 %' has a decimal comma; write it with a point, such as '0.05 %'")]
    [InlineData("0.5 % of range",
        "the accuracy '0.5 % of range' is a share of the range without saying the range; write it out, such as '0.5 % of 3 V'")]
    [InlineData("0.05 % + 2 mA",
        "the accuracy '0.05 % + 2 mA' has the part '2 mA'; expected a share ('0.05 %', '50 ppm', '0.5 % of 3 V'), digits ('3 digits') or "
        + "an amount in volts (V, mV, µV)")]
    [InlineData("good",
        "the accuracy 'good' has the part 'good'; expected a share ('0.05 %', '50 ppm', '0.5 % of 3 V'), digits ('3 digits') or an amount "
        + "in volts (V, mV, µV)")]
    [InlineData("-1 %",
        "the accuracy '-1 %' has the part '-1 %'; expected a share ('0.05 %', '50 ppm', '0.5 % of 3 V'), digits ('3 digits') or an amount "
        + "in volts (V, mV, µV)")]
    [InlineData("1 % +", "the accuracy '1 % +' has an empty part; expected a share, an amount or digits, such as '0.05 % + 2 mV'")]
    [InlineData("1 % normal",
        "the accuracy '1 % normal' says normal without its coverage factor; write 'normal k=2', or the factor of the certificate")]
    [InlineData("2 % below 1 V",
        "the accuracy '2 % below 1 V' says nothing of the readings from that limit up; add 'else' and their clause")]
    [InlineData("2 % else 1 %",
        "the accuracy '2 % else 1 %' has 'else' without a limit before it; expected the form '2 % below 1 W else 1 %'")]
    [InlineData("2 % below 1 W else 1 %",
        "the accuracy '2 % below 1 W else 1 %' has the limit 'below 1 W'; expected one in volts (V, mV, µV)")]
    [InlineData("3 % below 2 V else 2 % below 1 V else 1 %",
        "the accuracy '3 % below 2 V else 2 % below 1 V else 1 %' has limits that do not rise; give the clause of the smallest "
        + "readings first")]
    [InlineData("1 % + 3 digits, resolution 1 mA",
        "the accuracy '1 % + 3 digits, resolution 1 mA' has the resolution 'resolution 1 mA'; expected a step in volts (V, mV, µV)")]
    [InlineData("1 % of 3 A", "the accuracy '1 % of 3 A' has the range '3'; expected one in volts (V, mV, µV)")]
    [InlineData("1 % normal k=0", "the accuracy '1 % normal k=0' has a coverage factor that cannot be; expected one such as 2")]
    public void What_cannot_be_read_gets_a_sentence(string text, string expected)
    {
        Assert.False(MeterAccuracy.TryParse(text, LogQuantity.Voltage, out var accuracy, out string? error));
        Assert.Null(accuracy);
        Assert.Equal(expected, error);
    }

    [Fact]
    public void Numbers_too_large_to_be_meant_are_refused()
    {
        Assert.False(MeterAccuracy.TryParse("1e400 %", LogQuantity.Voltage, out _, out string? error));
        Assert.Contains("too large", error, StringComparison.Ordinal);
        Assert.False(MeterAccuracy.TryParse("1 % + 3 digits, resolution 1e400 V", LogQuantity.Voltage, out _, out _));
    }

    [Fact]
    public void Whatever_is_written_gets_an_accuracy_or_a_sentence() => Gen.Int[0, Words.Length - 1]
        .Array[0, 9].Sample(
            chosen =>
            {
                bool read = MeterAccuracy.TryParse(string.Join(' ', chosen.Select(i => Words[i])), LogQuantity.Voltage, out var accuracy,
                    out string? error);
                Assert.Equal(read, accuracy is not null);
                Assert.Equal(read, error is null);
                if (read)
                {
                    Assert.True(accuracy!.HalfWidthAt(5, 0.001) >= 0);
                }
            },
            iter: 3000,
            seed: "0000KOIKFq6O");

    [Fact]
    public void Control_characters_and_long_texts_are_shown_cut_and_clean()
    {
        Assert.False(MeterAccuracy.TryParse("x\u0007" + new string('y', 200), LogQuantity.Voltage, out _, out string? error));
        Assert.DoesNotContain('\u0007', error);
        Assert.Contains("…", error, StringComparison.Ordinal);
    }
}
