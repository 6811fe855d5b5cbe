using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Where a charge begins and ends when its fall is steep and clean, when its first seconds are lower, and when nothing is left on
/// the charger after it; energies by closed form.</summary>
public sealed class FallsAndBordersTests
{
    // 10 W for 30 min is 5 Wh. A fall by e every T = 1500 s / ln(10 / lowest) from 10 W to the lowest is (10 - lowest) T.
    [Theory]
    [InlineData(0.8, 0.1, 0.5)]
    [InlineData(0.8, 0.1, 5)]
    [InlineData(0.6, 0.6, 1)]
    [InlineData(0.3, 0.5, 1)]
    [InlineData(0.3, 0.5, 10)]
    public void A_clean_steep_fall_is_charge_to_its_lowest_end(double lowestW, double fullW, double intervalS)
    {
        double timeS = 1500 / Math.Log(10 / lowestW);
        double trueWh = 5 + ((10 - lowestW) * timeS / 3600);
        var levels = Fall(timeS, fullW);
        var log = WrittenLog.Measure(levels, intervalS, SampleKind.AverageEnding).Result;
        var charge = Assert.Single(log.Sessions);
        Assert.Equal(trueWh, charge.Energy.Value, 0.004 * trueWh);
        var kept = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Maintenance);
        Assert.Equal(fullW, kept.MeanPower.Value!.Value, 0.03 * fullW);
    }

    // Bursts of 1 W for 20 s within the fall, as a screen that lights up: they hide no part of it.
    [Fact]
    public void Bursts_within_a_steep_fall_do_not_end_it()
    {
        double timeS = 1500 / Math.Log(10 / 0.8);
        var levels = Fall(timeS, 0.1).Select(l => (l.PowerW + (l.ToS is > 2500 and < 3800 && l.ToS % 310 < 20 ? 1 : 0), l.ToS)).ToArray();
        var charge = Assert.Single(WrittenLog.Measure(levels, 1, SampleKind.AverageEnding).Result.Sessions);
        Assert.InRange(charge.EndS, 3885, 3915);
    }

    // 20 s at 2.5 W, then 3.8 W for 1 h: 0.01389 + 3.8 Wh, falling to 2 W for 5 min (0.1667 Wh).
    [Theory]
    [InlineData(0.5)]
    [InlineData(1)]
    public void The_seconds_before_full_power_belong_to_the_charge(double intervalS)
    {
        var log = WrittenLog.Measure([(0.05, 150), (2.5, 170), (3.8, 3770), (2, 4070), (0.3, 6000), (0.05, 7000)], intervalS,
            SampleKind.Instantaneous).Result;
        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.StartS, 148, 152);
        Assert.Equal(0.05, log.Modes[0].MeanPower.Value!.Value, 0.002);
    }

    [Fact]
    public void What_follows_at_the_level_of_waiting_is_no_maintenance()
    {
        var log = WrittenLog.Measure([(0.4, 600), .. Fall(600, 0.4)[1..^2], (0.4, 4300)], 1, SampleKind.AverageEnding).Result;
        Assert.Equal([Mode.NoLoad, Mode.Charge, Mode.NoLoad], log.Modes.Select(m => m.Span.Mode));
        Assert.Contains(log.Doubts, d => d.Text.Contains("taken off", StringComparison.Ordinal));
    }

    [Fact]
    public void A_device_that_follows_another_after_the_charger_waited_is_a_second_charge()
    {
        var log =
            WrittenLog.Measure([(0.25, 600), .. Fall(700, 0.25)[1..^2], (0.25, 4200), .. Fall(700, 0.5).Skip(1).SkipLast(1)
            .Select(l => (0.4 * l.PowerW, l.ToS + 3600))], 1, SampleKind.AverageEnding).Result;
        Assert.Equal(2, log.Sessions.Count);
    }

    [Fact]
    public void A_charger_unplugged_for_minutes_pauses_the_charge_and_that_is_said()
    {
        // 11 W for 30 min, nothing for 5 min, 11 W for 30 min, 5 W for 10 min: 5.5 + 5.5 + 0.8333 Wh.
        var log = WrittenLog.Measure([(0.05, 600), (11, 2400), (0.002, 2700), (11, 4500), (5, 5100), (0.2, 8000)], 1,
            SampleKind.AverageEnding).Result;
        Assert.Equal(11.833, Assert.Single(log.Sessions).Energy.Value, 0.03);
        Assert.Contains(log.Doubts, d => d.Text.Contains("unplugged", StringComparison.Ordinal));
    }

    // 15 W for 1 h, then a fall by e every 1200 s to 1 W: 15 + 14 / 3 = 19.667 Wh, counted in whole watt-hours.
    [Theory]
    [InlineData(10)]
    [InlineData(60)]
    public void The_last_steps_of_a_coarse_counter_belong_to_the_charge(double intervalS)
    {
        double fallS = 1200 * Math.Log(15);
        double Wh(double t) => (0.1 * Math.Min(t, 900) / 3600)
            + (15 * Math.Clamp(t - 900, 0, 3600) / 3600)
            + (15 * 1200 * (1 - Math.Exp(-Math.Clamp(t - 4500, 0, fallS) / 1200)) / 3600)
            + (0.1 * Math.Max(0, t - 4500 - fallS) / 3600);
        var text = new StringBuilder("time_s,energy_Wh\n");
        for (double t = 0; t < 12_000; t += intervalS)
        {
            text.Append(CultureInfo.InvariantCulture, $"{t},{Math.Floor(Wh(t) + 0.4)}\n");
        }

        var log = WrittenLog.Measure(text.ToString(), new LogOptions { Point = MeasuringPoint.Wall }, "1 %").Result;
        var charge = Assert.Single(log.Sessions);
        Assert.Equal(15 + (14.0 / 3), charge.Energy.Value, 0.9);
    }

    private static (double PowerW, double ToS)[] Fall(double timeS, double fullW)
    {
        var levels = new List<(double, double)> { (0.05, 600), (10, 2400) };
        for (double t = 2400.5; t <= 3900; t += 0.5)
        {
            levels.Add((10 * Math.Exp(-(t - 0.25 - 2400) / timeS), t));
        }

        levels.Add((fullW, 7500));
        levels.Add((0.05, 9000));
        return [.. levels];
    }
}
