using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A sign that turns from one row to the next in a charge that goes on.</summary>
public sealed class TurnedSignTests
{
    private static double PowerW(int t) => t is < 300 or > 3000 ? 0.2
        : t < 2000 ? 8 + (0.05 * (t * 7 % 5)) : 8 * Math.Exp((2000 - t) / 400.0);

    [Theory]
    [InlineData(900, 9999)]
    [InlineData(1500, 9999)]
    [InlineData(2200, 9999)]
    [InlineData(900, 1800)]
    public void Refuses_the_log_with_the_line(int fromS, int toS)
    {
        var refused = Assert.Throws<InputException>(() => Measure(
            Of("time (s),power (W)", Enumerable.Range(0, 3600), ("F2", t => t >= fromS && t < toS ? -PowerW(t) : PowerW(t))),
            MeasuringPoint.Wall));
        Assert.StartsWith(InvariantText.Of($"log.csv, line {fromS + 2}: power is as large as in the row before"), refused.Message,
            StringComparison.Ordinal);
    }

    // From a current that turns, as well.
    [Fact]
    public void Of_a_current_as_well()
    {
        var refused = Assert.Throws<InputException>(() => Measure(
            Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 3600), ("F2", _ => 5), ("F3", t => PowerW(t) / (t < 1000 ? 5 : -5))),
            MeasuringPoint.Usb, new LogOptions { Samples = SampleKind.Instantaneous }));
        Assert.StartsWith("log.csv, line 1002:", refused.Message, StringComparison.Ordinal);
    }

    // A device that gives back less than it took, or after a pause; and readings that scatter about zero.
    [Theory]
    [InlineData(0.4, 0)]
    [InlineData(1, 60)]
    public void A_device_that_gives_power_back_is_not_refused_for_its_sign(double share, int pauseS)
    {
        var log = Measure(Of("time (s),power (W)", Enumerable.Range(0, 3600), ("F2", t => t is >= 1800 and < 1900
            ? t < 1800 + pauseS || t >= 1900 - (pauseS / 2) ? 0.01 * ((t % 5) - 2) : -share * PowerW(t)
            : PowerW(t))), MeasuringPoint.Wall);
        Assert.NotEmpty(log.Sessions);
    }
}
