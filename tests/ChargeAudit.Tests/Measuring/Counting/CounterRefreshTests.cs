using ChargeAudit.Measuring.Counting;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>Counters that are read more often than they are renewed. Power is written down second by second, and its sum is the truth.
/// </summary>
public sealed class CounterRefreshTests
{
    private const int Phases = 8;

    [Theory]
    [InlineData(1, 30)]
    [InlineData(2, 60)]
    [InlineData(5, 10)]
    public void A_value_is_as_old_as_the_time_between_two_and_a_row(int intervalS, int renewedS)
    {
        var refresh = CounterRefresh.Of(Readings(12, intervalS, renewedS), 36);

        Assert.Equal(renewedS + intervalS, refresh.OldestS, 9);
    }

    [Theory]
    [InlineData(12, 30, 30)]
    [InlineData(12, 30, 1)]
    [InlineData(0.5, 1, 1)]
    public void A_value_of_each_row_is_new(double powerW, int intervalS, int renewedS) =>
        Assert.Equal(default, CounterRefresh.Of(Readings(powerW, intervalS, renewedS), 36));

    [Fact]
    public void Constant_power_is_one_line_however_old_the_values_are()
    {
        var line = Assert.Single(CounterBand.Of(Readings(9, 1, 60), 36, 0, 3600).Lines());

        Assert.InRange(line.PowerW, 8.95, 9.05);
    }

    /// <summary>Stages of 2.8 and 2.4 W end in a step down to 0.5 W, and then the device is taken off.</summary>
    [Theory]
    [InlineData(0.01, 5, 30)]
    [InlineData(0.01, 1, 60)]
    [InlineData(0.001, 10, 30)]
    [InlineData(0.01, 30, 60)]
    public void A_full_device_that_is_steady_is_no_part_of_the_charge(double stepWh, int intervalS, int renewedS)
    {
        List<double> charge =
        [
            .. Enumerable.Repeat(9.0, 3600), .. Enumerable.Range(0, 1800).Select(t => 9 * Math.Exp(-(t + 0.5) / 1600)),
            .. Enumerable.Repeat(2.8, 1200), .. Enumerable.Repeat(2.4, 900),
        ];
        Holds([.. Enumerable.Repeat(0.13, 900)], charge, [.. Enumerable.Repeat(0.5, 3200), .. Enumerable.Repeat(0.13, 900)],
            stepWh, intervalS, renewedS);
    }

    /// <summary>10 W, then 5 W for two hours, a short fall, and the full device.</summary>
    [Theory]
    [InlineData(0.01, 1, 60)]
    [InlineData(0.01, 30, 60)]
    [InlineData(0.01, 30, 1)]
    [InlineData(0.001, 10, 30)]
    public void A_long_flat_stage_is_no_full_device(double stepWh, int intervalS, int renewedS)
    {
        List<double> charge =
        [
            .. Enumerable.Repeat(10.0, 900), .. Enumerable.Repeat(5.0, 7200),
            .. Enumerable.Range(0, 900).Select(t => 5 - (2.5 * t / 900)),
        ];
        Holds([.. Enumerable.Repeat(0.1, 600)], charge, [.. Enumerable.Repeat(0.4, 3600), .. Enumerable.Repeat(0.1, 900)],
            stepWh, intervalS, renewedS);
    }

    /// <summary>A screen of 1.5 W is on for some minutes again and again after the charge: each time the device comes back to 0.3 W.
    /// </summary>
    [Theory]
    [InlineData(0.01, 1, 30)]
    [InlineData(0.001, 10, 1)]
    [InlineData(0.001, 60, 1)]
    public void A_full_device_that_is_used_comes_back_to_its_level(double stepWh, int intervalS, int renewedS)
    {
        List<double> charge =
        [
            .. Enumerable.Repeat(8.0, 5400), .. Enumerable.Range(0, 1800).Select(t => 8 * Math.Exp(-(t + 0.5) / 1000)),
        ];
        var full = Enumerable.Range(0, 5000).Select(t => t % 1100 is >= 700 ? 1.8 : 0.3);
        Holds([.. Enumerable.Repeat(0.1, 600)], charge, [.. full], stepWh, intervalS, renewedS);
    }

    private static void Holds(List<double> before, List<double> charge, List<double> after, double stepWh, int intervalS, int renewedS)
    {
        double trueWh = charge.Sum() / 3600, endS = before.Count + charge.Count;
        double withinS = 60 + (2 * (intervalS + renewedS));
        int held = 0;
        for (int k = 0; k < Phases; k++)
        {
            var log = CounterLog.Of([.. before, .. charge, .. after], stepWh, intervalS, stepWh * (k + 0.5) / Phases, renewedS);
            var mode = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
            var energy = mode.Energy.Interval()!.Value;
            held += trueWh >= energy.Low && trueWh <= energy.High ? 1 : 0;
            Assert.InRange(energy.High - energy.Low, 0, (6 * stepWh) + (0.04 * trueWh));
            Assert.InRange(mode.Span.EndS, endS - withinS, endS + withinS);
        }

        Assert.InRange(held, Phases - 1, Phases);
    }

    // Readings of constant power by a counter in steps of 0.01 Wh. [s, J]
    private static List<(double, double)> Readings(double powerW, int intervalS, int renewedS) =>
        [.. Enumerable.Range(0, 3600 / intervalS).Select(i => i * intervalS)
            .Select(t => ((double)t, 36 * Math.Floor((7 + (powerW * (t / renewedS * renewedS))) / 36)))];
}
