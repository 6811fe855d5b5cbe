using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Digits tell a unit that changes where readings stay for long at a few values: as far back, or ahead, as it takes to see some
/// different ones.</summary>
public sealed class FewValuesOfAUnitTests
{
    // 0.2 W, a charge that rises from 8 W to 9 W in two hours and falls to 0.5 W, in the steps of the meter.
    private static double SteppedW(int t, double stepW)
    {
        double w = t < 600 ? 0.2 : t < 7800 ? 8 + ((t - 600) / 7200.0) : t < 9600 ? 9 - (8.5 * (t - 7800) / 1800) : 0.5;
        return Math.Round(w / stepW) * stepW;
    }

    private static string Text(double stepW, double factor, int fromS, int toS, string format, string other)
    {
        var times = Enumerable.Range(0, 720).Select(i => i * 15).ToList();
        return "time (s),power (W)\n" + string.Concat(times.Select(t =>
        {
            bool changed = t >= fromS && t < toS;
            double w = SteppedW(t, stepW) * (changed ? factor : 1);
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{t},{w.ToString(changed ? other : format, CultureInfo.InvariantCulture)}\n");
        }));
    }

    [Theory]
    [InlineData(0.1, 10, 3855, 99_999, "F1")]
    [InlineData(0.1, 10, 4500, 99_999, "F1")]
    [InlineData(0.1, 10, 7000, 99_999, "F1")]
    [InlineData(0.5, 0.1, 3000, 99_999, "F2")]
    [InlineData(0.1, 10, 4500, 7200, "F1")]
    [InlineData(0.1, 100, 4500, 7200, "F1")]
    public void A_unit_that_changes_refuses_the_log_with_the_line(double stepW, double factor, int fromS, int toS, string other)
    {
        var refused = Assert.Throws<InputException>(
            () => Measure(Text(stepW, factor, fromS, toS, "F1", other), MeasuringPoint.Wall));
        Assert.StartsWith($"log.csv, line {((fromS + 14) / 15) + 2}:", refused.Message, StringComparison.Ordinal);
        Assert.NotEmpty(Measure(Text(stepW, 1, 0, 0, "F1", "F1"), MeasuringPoint.Wall).Sessions);
    }

    // 0.2 mA in a pause, and from there on in amperes under a heading of milliamperes: the same digits a thousand times smaller.
    [Theory]
    [InlineData(2.0)]
    [InlineData(0.1)]
    public void A_current_that_changes_in_a_pause_refuses_the_log(double pauseMa)
    {
        double Ma(int t) => t < 2000 ? 900 + (0.1 * (t / 4 % 7)) : t < 2600 ? pauseMa : t < 5000 ? 850 - (0.1 * (t / 4 % 5))
            - ((t - 2600) / 12.0) : 3.3;
        string text = "time (s),voltage (V),current (mA)\n" + string.Concat(Enumerable.Range(0, 1500).Select(i => 4 * i).Select(t =>
            string.Create(CultureInfo.InvariantCulture, $"{t},9.02,{(t < 2400 ? Ma(t) : Ma(t) / 1000):0.0######}\n")));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Usb));
        Assert.StartsWith("log.csv, line 602:", refused.Message, StringComparison.Ordinal);
    }
}
