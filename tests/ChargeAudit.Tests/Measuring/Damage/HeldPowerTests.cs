using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A charger that regulates its current keeps it to the meter's last digit, or between two of its steps; that is no end of a range
/// and no stuck sensor.</summary>
public sealed class HeldPowerTests
{
    // Idle noise turns up and down, so that the log shows scatter; in the fall readings go down by several steps a row.
    private static double CurrentA(int t, int ditherEvery) => t < 400 ? 0.006 + (0.001 * (t / 4 * 7 % 3))
        : t < 4000 ? (ditherEvery > 0 && t / 4 % ditherEvery == 0 ? 1.395 : 1.396)
        : t < 6000 ? 1.396 * Math.Exp((4000 - t) / 700.0)
        : 0.020 + (0.001 * (t / 4 * 5 % 3));

    [Theory]
    [InlineData(2)]
    [InlineData(37)]
    [InlineData(180)]
    public void A_current_between_two_steps_is_held(int ditherEvery)
    {
        var log = Measure(Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 2000).Select(i => 4 * i),
            ("F2", t => 5.08 + (0.01 * (t / 4 * 3 % 2))), ("F3", t => CurrentA(t, ditherEvery))), MeasuringPoint.Usb);
        Assert.DoesNotContain(log.Faults, f => f.Kind is FaultKind.Clipped or FaultKind.Stuck);
    }

    // What scatters by several steps below the end of a range does so by more than one.
    [Fact]
    public void A_range_that_ends_is_still_seen()
    {
        double A(int t) => t is >= 400 and < 4000
            ? Math.Min(1.396, 1.397 + (0.001 * ((t / 4 * 7 % 11) - 5)))
            : CurrentA(t, 0) + (t is >= 4000 and < 5000 ? 0.001 * ((t / 4 * 7 % 11) - 5) : 0);
        var log = Measure(Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 2000).Select(i => 4 * i),
            ("F2", _ => 5.08), ("F3", A)), MeasuringPoint.Usb);
        Assert.Contains(log.Faults, f => f.Kind == FaultKind.Clipped);
    }

    // A full device that is held at 80 % takes 1.075 W for 20 minutes, for a row a step less, and for an hour and a half.
    [Fact]
    public void A_load_that_stays_for_long_twice_is_not_stuck()
    {
        double W(int t) => t < 300 ? 0.05 + (0.001 * (t * 7 % 3)) : t < 1500 ? 18.32 + (0.001 * (t * 5 % 11))
            : t < 8200 ? (t == 2610 ? 1.074 : 1.075) : 18.32 + (0.001 * (t * 7 % 11));
        var log = Measure(Of("time (s),power (W)", Enumerable.Range(0, 9600), ("F3", W)), MeasuringPoint.Usb);
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Stuck);
    }

    // A fall that drops to a level in the midst of a row of means, and stays there to the last digit for an hour and more.
    [Theory]
    [InlineData(0.12, SampleKind.AverageEnding)]
    [InlineData(0.80, SampleKind.AverageStarting)]
    public void A_level_that_a_mean_drops_to_is_not_stuck(double share, SampleKind samples)
    {
        double W(int t)
        {
            int row = t / 60;
            double falling = 9 * Math.Exp((120 - row) / 38.0);
            return row < 5 ? 0.14 + (0.001 * (row * 3 % 5)) : row < 120 ? 9 + (0.001 * (row * 7 % 11)) : row < 186 ? falling
                : row == 186 ? (share * falling) + ((1 - share) * 0.761) : row < 257 ? 0.761
                : row == 257 ? 0.627 : 0.14 + (0.001 * (row * 3 % 5));
        }

        var log = Measure(Of("time (s),power (W)", Enumerable.Range(0, 262).Select(i => 60 * i), ("F3", W)), MeasuringPoint.Wall,
            new LogOptions { Samples = samples });
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Stuck);
    }

    // 8 W, and 8 mW while the device pauses; where it goes on no unit has changed, where it does not the log is refused.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_pause_at_a_thousandth_is_no_unit(bool goesOn)
    {
        double W(int t) => t is < 600 or (>= 1500 and < 2400) ? 8 + (0.001 * (t * 7 % 5)) : goesOn ? t < 1500 ? 0.008 : 0.05 : 0.008;
        string text = Of("time (s),power (W)", Enumerable.Range(0, goesOn ? 3000 : 1500), ("F3", W));
        if (goesOn)
        {
            Assert.DoesNotContain(Measure(text, MeasuringPoint.Usb).Faults, f => f.Kind == FaultKind.ChangedUnit);
        }
        else
        {
            var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Usb));
            Assert.StartsWith("log.csv, line 602:", refused.Message, StringComparison.Ordinal);
        }
    }
}
