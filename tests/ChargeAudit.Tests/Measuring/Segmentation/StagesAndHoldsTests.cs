using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Charges with a first stage, a hold or a load that wanders after them; each is drawn in steps of constant power, so its energy
/// is a sum by hand.</summary>
public sealed class StagesAndHoldsTests
{
    public static TheoryData<double, SampleKind> Meters => new()
    {
        { 1, SampleKind.Instantaneous }, { 10, SampleKind.AverageEnding }, { 60, SampleKind.AverageEnding },
    };

    // Nothing for 10 min, 4 W for 15 min (1 Wh), 15 W for 1 h, then 7 W for 15 min and 0.2 W: 17.75 Wh; without the stage 16.75 Wh.
    [Theory]
    [MemberData(nameof(Meters))]
    public void A_flat_first_stage_after_nothing_is_charge_and_the_interval_holds_both(double intervalS, SampleKind kind)
    {
        var log = WrittenLog.Measure([(0, 600), (4, 1500), (15, 5100), (7, 6000), (0.2, 9600)], intervalS, kind).Result;
        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.Energy.Value, 17.55, 17.85);
        Holds(charge.Energy, 17.75);
        Holds(charge.Energy, 16.75);
        Assert.Contains(log.Doubts, d => d.Text.Contains("trickle", StringComparison.Ordinal));
    }

    // The same with 0.6 W for 15 min (0.15 Wh): 16.9 Wh with the stage, 16.75 Wh without.
    [Theory]
    [MemberData(nameof(Meters))]
    public void A_trickle_that_a_pad_could_draw_is_in_doubt_and_the_interval_holds_both(double intervalS, SampleKind kind)
    {
        var log = WrittenLog.Measure([(0, 600), (0.6, 1500), (15, 5100), (7, 6000), (0.2, 9600)], intervalS, kind).Result;
        var charge = Assert.Single(log.Sessions);
        Holds(charge.Energy, 16.9);
        Holds(charge.Energy, 16.75);
        Assert.Contains(log.Doubts, d => d.Text.Contains("trickle", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.6)]
    [InlineData(4)]
    public void Where_the_charger_is_known_to_draw_nothing_a_first_stage_is_the_devices_without_a_doubt(double stageW)
    {
        var envelope =
            WrittenLog.Measure([(0, 600), (stageW, 1500), (15, 5100), (7, 6000), (0.2, 9600)], 1, SampleKind.Instantaneous).Result.Envelope;
        var finding = ModeFinder.Find(envelope, ModeOptions.Default with { NoLoadPowerW = 0, Purpose = LogPurpose.Charge });
        var charge = Assert.Single(finding.Modes, m => m.Mode == Mode.Charge);
        Assert.InRange(charge.StartS, 598, 602);
        Assert.Null(charge.OpenAtStart);
        Assert.DoesNotContain(finding.Doubts, d => d.Text.Contains("trickle", StringComparison.Ordinal));
    }

    // A pad that is known to draw 0.6 W waits with it, plugged in or not.
    [Fact]
    public void What_the_charger_is_known_to_draw_is_no_first_stage()
    {
        var envelope =
            WrittenLog.Measure([(0, 600), (0.6, 1500), (15, 5100), (7, 6000), (1, 9600)], 1, SampleKind.Instantaneous).Result.Envelope;
        var charge =
            Assert.Single(ModeFinder.Find(envelope, ModeOptions.Default with { NoLoadPowerW = 0.6 }).Modes, m => m.Mode == Mode.Charge);
        Assert.InRange(charge.StartS, 1498, 1502);
    }

    // 15 W for 1 h, held at 0.5 W for 3 h (1.5 Wh), finished with 8 W for 15 min: 15 + 1.5 + 2 = 18.5 Wh.
    [Theory]
    [MemberData(nameof(Meters))]
    public void A_charge_that_is_held_and_then_finished_is_one(double intervalS, SampleKind kind)
    {
        var log = WrittenLog.Measure([(0.05, 600), (15, 4200), (0.5, 15_000), (8, 15_900), (0.2, 19_500)], intervalS, kind).Result;
        var charge = Assert.Single(log.Sessions);
        Holds(charge.Energy, 18.5);
        Assert.Equal(18.5, charge.Energy.Value, 0.2);
        var hold = Assert.Single(log.Details, d => d.Kind == ModeDetailKind.Hold);
        Assert.Equal(10_800, hold.EndS - hold.StartS, 130.0);
        Assert.Equal(0.5, hold.MeanPowerW, 0.06);
        Assert.Contains(log.Doubts, d => d.Text.Contains("held", StringComparison.Ordinal));
    }

    [Fact]
    public void Where_the_device_was_gone_between_there_are_two_charges_and_a_long_pause_is_in_doubt()
    {
        var log = WrittenLog.Measure([(0.05, 600), (15, 4200), (0.05, 6600), (15, 9000), (2, 9900), (0.2, 13_500)], 10,
            SampleKind.AverageEnding).Result;
        Assert.Equal(2, log.Sessions.Count);
        Assert.Contains(log.Doubts, d => d.Text.Contains("pause of 40 min", StringComparison.Ordinal));
    }

    // 15 W falls in a straight line from 3000 s to 3 W at 5400 s; then 3 W ± 10 % wanders up and down: 10 + 6 = 16 Wh from 600 s.
    [Theory]
    [InlineData(1, 900)]
    [InlineData(10, 1500)]
    [InlineData(30, 2400)]
    public void A_load_that_wanders_after_full_does_not_extend_the_charge(double intervalS, double periodS)
    {
        var levels = new List<(double, double)> { (0.1, 600), (15, 3000) };
        for (double t = 3030; t <= 5400; t += 30)
        {
            levels.Add((15 - (12 * (t - 15 - 3000) / 2400), t));
        }

        for (double t = 5430; t <= 16_000; t += 30)
        {
            levels.Add((3 + (0.3 * Math.Sin(2 * Math.PI * (t - 5400) / periodS)), t));
        }

        var log = WrittenLog.Measure([.. levels], intervalS, SampleKind.AverageEnding).Result;
        var charge = Assert.Single(log.Sessions);
        Assert.Equal(16, charge.Energy.Value, 0.4);
        Holds(charge.Energy, 16);
        Assert.True(
            Math.Abs(charge.EndS - 5400) < 150
                || log.Doubts.Any(d => d.Text.Contains("wanders by itself", StringComparison.Ordinal)), $"ends at {charge.EndS} s");
    }

    // A pad that waits with 0.3 W feeds a small case with 0.3 W more for 1 h, falling in steps; 0.6 + 0.1 + 0.08 = 0.78 Wh.
    [Fact]
    public void A_small_case_on_a_pad_is_a_charge_where_it_falls_as_a_battery_does()
    {
        var log =
            WrittenLog.Measure([(0.3, 600), (0.6, 4200), (0.48, 5000), (0.4, 5720), (0.31, 9000)], 10, SampleKind.AverageEnding).Result;
        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.Energy.Value, 0.6, 0.8);
        Assert.Contains(log.Doubts, d => d.Text.Contains("small battery", StringComparison.Ordinal));
    }

    private static void Holds(ChargeAudit.Metrology.Uncertainty.Measured energy, double trueWh)
    {
        var interval = energy.Interval()!.Value;
        Assert.True(interval.Low <= trueWh && trueWh <= interval.High, $"{interval.Low} to {interval.High} does not hold {trueWh}");
    }
}
