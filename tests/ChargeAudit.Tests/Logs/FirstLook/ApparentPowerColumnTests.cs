using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>A column "power" on the mains that is voltage times current.</summary>
public sealed class ApparentPowerColumnTests
{
    [Theory]
    [InlineData("0.00", 1.0, true)]
    [InlineData("0.0", 1.0, true)]
    [InlineData("0", 1.0, true)]
    [InlineData("0.00", 0.55, false)]
    [InlineData("0.0", 0.55, false)]
    [InlineData("0.0", 0.97, false)]
    [InlineData("0", 0.5, false)]
    public void Power_that_equals_the_product_to_its_last_digit_is_apparent_power(string format, double factor, bool apparent) =>
        Assert.Equal(apparent, Told(Log(format, factor, 20, 3), MeasuringPoint.Wall));

    [Fact]
    public void On_direct_current_power_is_the_product_and_nothing_is_said() =>
        Assert.False(Told(Log("0.00", 1, 20, 3, 9), MeasuringPoint.Usb));

    // A charger that waits at 0.4 W: its digits say nothing about the phase, whatever the power factor.
    [Fact]
    public void Readings_of_few_digits_say_nothing() => Assert.False(Told(Log("0", 0.3, 0.4, 0.3), MeasuringPoint.Wall));

    private static bool Told(string text, MeasuringPoint point)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            return LogReader.Inspect(path,
                new LogOptions { Point = point }).Notes.Any(n => n.Contains("apparent power", StringComparison.Ordinal));
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static string Log(string format, double factor, double apparentVA, double spreadVA, double volts = 230)
    {
        var random = new Random(1);
        var text = new StringBuilder("time (s),voltage (V),current (A),power (W)\n");
        for (int t = 0; t < 600; t++)
        {
            double v = Math.Round(volts + random.NextDouble(), 1);
            double a = Math.Round((apparentVA + (spreadVA * (random.NextDouble() - 0.5))) / v, 3);
            text.Append(CultureInfo.InvariantCulture,
                $"{t},{v:F1},{a:F3},{(v * a * factor).ToString(format, CultureInfo.InvariantCulture)}\n");
        }

        return text.ToString();
    }
}
