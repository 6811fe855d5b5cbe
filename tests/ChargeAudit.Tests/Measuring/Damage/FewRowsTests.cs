using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A log written on change may have few rows: a reading of 9 kW among them would be held for minutes.</summary>
public sealed class FewRowsTests
{
    private static readonly int[] Times = [0, 600, 700, 1300, 1900, 2500, 3000, 3200, 3500, 3800, 4400, 5000];

    /// <summary>0.2 W, a charge of 7.5 W, 0.7 W, each held to the next. Left out, the row leaves an
    /// interval that holds what flowed, and is no wider than twice that.</summary>
    [Theory]
    [InlineData(7.5, false)]
    [InlineData(20, false)]
    [InlineData(30, true)]
    [InlineData(9000, true)]
    public void A_reading_far_above_all_others_is_left_out(double oddW, bool told)
    {
        string text = TextLog.Of("time (s),power (W)", Times, ("F1", t => t switch
        {
            < 700 => 0.2,
            3000 => oddW,
            < 3800 => 7.5,
            _ => 0.7,
        }));
        LogMeasurement log = TextLog.Measure(text, MeasuringPoint.Wall, new LogOptions { Samples = SampleKind.OnChange },
            (LogQuantity.Power, "0.1 %"));

        Assert.Equal(told, log.Faults.Any(f => f.Kind == FaultKind.Implausible));
        double trueWh = ((700 * 0.2) + (3100 * 7.5) + (1200 * 0.7)) / 3600;
        var i = log.Energy.Interval()!.Value;
        Assert.True(!told || (i.Low <= trueWh && trueWh <= i.High && i.High < 2 * trueWh), $"{i.Low} to {i.High} for {trueWh}");
    }
}
