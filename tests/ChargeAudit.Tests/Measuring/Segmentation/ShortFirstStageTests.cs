using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>The seconds in which charger and device agree on more power, and what only comes before a charge.</summary>
public sealed class ShortFirstStageTests
{
    // Nothing for 15 min, a stage of 36 s (or 90 s), then 20 W and a fall.
    [Theory]
    [InlineData(2.8, 936, 0)]
    [InlineData(4, 936, 0)]
    [InlineData(2.8, 990, 0)]
    [InlineData(2.8, 936, 0.2)]
    public void A_stage_of_seconds_belongs_to_the_charge_and_is_no_waiting_charger(double stageW, double untilS, double idleW)
    {
        var log = WrittenLog.Measure(
            [(idleW, 900), (stageW, untilS), (20, 3500), (12.34, 3900), (6.17, 4300), (2.05, 4700), (idleW, 6000)], 1,
            SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.StartS, 898, 902);
        Assert.DoesNotContain(log.Modes, m => m.Span.Mode == Mode.NoLoad && m.Energy.Value * 3600 > m.Span.DurationS);
    }

    // A pad draws 3 W for 36 s, then 0.3 W again: it woke up, or the device was laid on badly.
    [Fact]
    public void A_burst_from_which_power_sinks_back_is_not()
    {
        var log = WrittenLog.Measure(
            [(0.3, 900), (3, 936), (0.3, 1200), (20, 3500), (12.34, 3900), (6.17, 4300), (2.05, 4700), (0.3, 6000)], 1,
            SampleKind.Instantaneous).Result;

        Assert.InRange(Assert.Single(log.Sessions).StartS, 1198, 1202);
    }

    // A pad that waits with 3 W and pulses, for five minutes right before the charge; the log starts with it.
    [Fact]
    public void A_pad_that_waits_with_pulses_waits()
    {
        List<(double PowerW, double ToS)> levels = [];
        for (double t = 0; t < 300; t += 2)
        {
            levels.AddRange([(3, t + 1.5), (4, t + 2)]);
        }

        var log = WrittenLog.Measure([.. levels, (20, 3500), (12.34, 3900), (6.17, 4300), (3.5, 6000)], 0.5,
            SampleKind.Instantaneous).Result;
        Assert.InRange(Assert.Single(log.Sessions).StartS, 298, 302);
    }
}
