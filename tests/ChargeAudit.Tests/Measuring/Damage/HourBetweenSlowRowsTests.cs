using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A clock that is put forward by an hour, however slow the rows.</summary>
public sealed class HourBetweenSlowRowsTests
{
    private const int ChargeS = 36_000;

    private static double PowerW(int t) => t is > 7200 and <= 7200 + ChargeS ? 6 + (t / 40_000.0) : 0.1;

    [Theory]
    [InlineData(60)]
    [InlineData(600)]
    [InlineData(900)]
    [InlineData(1200)]
    [InlineData(1800)]
    public void Is_told_and_the_interval_holds_what_flowed(int everyS)
    {
        // The log of the true clock, whose rows behind the fifteenth thousand seconds have later stamps.
        var times = Enumerable.Range(0, (54_000 / everyS) + 1).Select(i => i * everyS).ToList();
        string text = Of("time (s),power (W)", times.Select(t => t > 18_000 ? t + 3600 : t),
            ("F2", t => PowerW(t > 18_000 ? t - 3600 : t)));
        var log = Measure(text, MeasuringPoint.Wall, new LogOptions { Samples = SampleKind.AverageEnding },
            (LogQuantity.Power, "0.5 %"));
        var interval = log.Energy.Interval()!.Value;

        Assert.Contains(log.Faults, f => f.Kind == FaultKind.ClockStep);
        Assert.InRange(times.Skip(1).Sum(t => PowerW(t)) * everyS / 3600, interval.Low, interval.High);
    }

    // Three rows missing in a log of 15 min are no hour.
    [Theory]
    [InlineData(900, 2)]
    [InlineData(600, 2)]
    public void A_few_rows_that_are_missing_are_none(int everyS, int missing)
    {
        var times = Enumerable.Range(0, 60).Select(i => i * everyS).Where(t => t <= 18_000 || t > 18_000 + (missing * everyS));
        var log = Measure(Of("time (s),power (W)", times, ("F2", PowerW)), MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.ClockStep);
    }
}
