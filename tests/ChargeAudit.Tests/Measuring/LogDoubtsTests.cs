using ChargeAudit.Logs;

namespace ChargeAudit.Tests.Measuring;

/// <summary>What is said of powers that no supply of a phone gives: 240 W over USB (USB Power Delivery 3.1, from memory).</summary>
public sealed class LogDoubtsTests
{
    [Theory]
    [InlineData(MeasuringPoint.Usb, 230, false)]
    [InlineData(MeasuringPoint.Usb, 250, true)]
    [InlineData(MeasuringPoint.Wall, 280, false)]
    [InlineData(MeasuringPoint.Wall, 750, true)]
    public void A_power_that_no_supply_gives_is_doubted(MeasuringPoint point, double powerW, bool doubted) =>
        Assert.Equal(doubted, Says(point, t => t is >= 600 and < 4200 ? powerW : 0.3));

    // Rows that were scaled for some minutes are enough; a single reading is another matter.
    [Theory]
    [InlineData(300, true)]
    [InlineData(10, false)]
    public void Some_minutes_of_it_are_enough(int seconds, bool doubted) =>
        Assert.Equal(doubted, Says(MeasuringPoint.Wall, t => t < 600 ? 0.3 : t is >= 2000 && t < 2000 + seconds ? 600 : 8));

    private static bool Says(MeasuringPoint point, Func<int, double> powerW) =>
        TextLog.Measure(
            TextLog.Of("time (s),power (W)", Enumerable.Range(0, 500).Select(i => 10 * i), ("F2", t => powerW(t) + (t / 10 % 7 * 0.01))),
            point)
            .Doubts.Any(d => d.Text.Contains("no supply of a phone gives so much", StringComparison.Ordinal));
}
