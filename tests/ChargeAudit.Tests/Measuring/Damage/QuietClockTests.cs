using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Logs written on change, and at the latest after some time: a longer stretch without a row is a clock that was put forward. A
/// load that rises evenly writes rows at equal distances as well, and there a longer stretch says nothing.</summary>
public sealed class QuietClockTests
{
    private static readonly LogOptions OnChange = new() { Samples = SampleKind.OnChange };

    /// <summary>Looked at every 60 s, written where it has changed by 0.05 W: a charger that waits for 9 min, then 16 W and 0.01 W more
    /// each minute, so that a row is written every 5 min, and a fall so fast that every look is written.</summary>
    [Fact]
    public void A_load_that_rises_evenly_is_not_written_at_the_latest_after_some_time()
    {
        static double At(int t) => t switch
        {
            < 540 => 0.16,
            < 9000 => 16 + (t / 6000.0),
            _ => 0.16 + (17.3 * Math.Exp(-(t - 9000) / 2000.0)),
        };
        List<int> written = [0];
        for (int t = 60; t < 14_000; t += 60)
        {
            if (Math.Abs(At(t) - At(written[^1])) >= 0.0499)
            {
                written.Add(t);
            }
        }

        string text = TextLog.Of("time (s),power (W)", written, ("F3", At));

        Assert.DoesNotContain(TextLog.Measure(text, MeasuringPoint.Wall, OnChange).Faults, f => f.Kind == FaultKind.ClockStep);
    }

    /// <summary>Looked at every 20 s, written where it has changed by 0.5 W or after 10 min: 11 W that rise by 0.08 W in ten minutes, and a
    /// fall. A row that comes one look later than the others is none of a clock that was set; one that comes 200 s later is.</summary>
    [Theory]
    [InlineData(0, false)]
    [InlineData(20, false)]
    [InlineData(200, true)]
    public void A_row_later_than_the_latest_by_more_than_a_look_is_told(int laterS, bool told)
    {
        static double At(int t) => t switch
        {
            < 900 => 0.041,
            < 7000 => 10.6 + (t / 7500.0),
            _ => 0.041 + (11.5 * Math.Exp(-(t - 7000) / 1500.0)),
        };
        List<int> written = [0];
        for (int t = 20; t < 16_000; t += 20)
        {
            if (Math.Abs(At(t) - At(written[^1])) >= 0.5 || t - written[^1] >= 600)
            {
                written.Add(t);
            }
        }

        string text = TextLog.Of("time (s),power (W)", written.Select(t => t > 3000 ? t + laterS : t),
            ("F3", t => At(t > 3000 + laterS ? t - laterS : t)));

        Assert.Equal(told, TextLog.Measure(text, MeasuringPoint.Wall, OnChange).Faults.Any(f => f.Kind == FaultKind.ClockStep));
    }

    /// <summary>16 W that rise by 0.01 W a minute, written where they have changed by 0.05 W and never else: every 5 min. The
    /// clock is put forward by an hour within the charge. The truth is the sum over the seconds, by trapezoids.</summary>
    [Fact]
    public void An_hour_without_a_row_where_rows_are_close_is_told_and_held()
    {
        static double At(int t) => t < 540 ? 0.16 : t < 6000 ? 16 + (t / 6000.0) : 0.16 + (17.3 * Math.Exp(-(t - 6000) / 600.0));
        List<int> written = [0];
        for (int t = 60; t < 9000; t += 60)
        {
            if (Math.Abs(At(t) - At(written[^1])) >= 0.0499)
            {
                written.Add(t);
            }
        }

        double trueWh = (Enumerable.Range(0, written[^1]).Sum(At) + ((At(written[^1]) - At(0)) / 2)) / 3600;
        string text = TextLog.Of("time (s),power (W)", written.Select(t => t > 3000 ? t + 3600 : t),
            ("F3", t => At(t > 3000 ? t - 3600 : t)));
        LogMeasurement log = TextLog.Measure(text, MeasuringPoint.Wall, OnChange, (LogQuantity.Power, "0.1 %"));

        Assert.Single(log.Faults, f => f.Kind == FaultKind.ClockStep);
        var i = log.Energy.Interval()!.Value;
        Assert.InRange(trueWh, i.Low, i.High);
    }
}
