using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Rows of exactly 0 W within a charge: a pause, or readings that measured nothing.</summary>
public sealed class ZeroReadingsTests
{
    private const int PauseFromS = 1800;
    private const int PauseToS = 2400;

    /// <summary>10 W, for ten minutes 0 W, 10 W and a fall, between 5 min before and 15 min after it at an idle power.</summary>
    [Theory]
    [InlineData(0.2, "F1", false)]
    [InlineData(0.1, "F1", false)]
    [InlineData(0.3, "F1", true)]
    [InlineData(0.2, "F2", true)]
    [InlineData(0.02, "F3", true)]
    public void Zeros_are_no_pause_where_the_idle_charger_reads_clear_of_zero(double idleW, string digits, bool told)
    {
        string text = TextLog.Of("time (s),power (W)", Enumerable.Range(0, 1500).Select(i => 5 * i), (digits, t => t switch
        {
            < 300 or >= 6600 => idleW,
            >= PauseFromS and < PauseToS => 0,
            < 4200 => 10,
            _ => idleW + (10 * Math.Exp(-(t - 4200) / 500.0)),
        }));

        Assert.Equal(told, TextLog.Measure(text, MeasuringPoint.Wall).Faults.Any(f => f.Kind == FaultKind.ZeroReadings));
    }

    /// <summary>An idle current that scatters about zero now and then reads exactly 0, in a pause of one row as well.</summary>
    [Fact]
    public void One_zero_among_readings_that_scatter_about_zero_is_a_pause()
    {
        double[] scatter = [0.0006, -0.0003, 0, 0.0005, -0.0007, 0.0002, -0.0004, 0.0001];
        string text = TextLog.Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 400).Select(i => 60 * i),
            ("F2", _ => 5.05), ("F4", t => t switch
            {
                < 1200 or >= 18_000 => scatter[t / 60 % scatter.Length],
                6000 => 0,
                < 12_000 => 2.0,
                _ => 2.0 * Math.Exp(-(t - 12_000) / 900.0),
            }));

        Assert.DoesNotContain(TextLog.Measure(text, MeasuringPoint.Usb).Faults, f => f.Kind == FaultKind.ZeroReadings);
    }

    /// <summary>A charge of 6.5 W by rows of 5 min that pauses at 0.47 W soon after, or soon before, two rows of exactly 0.</summary>
    [Theory]
    [InlineData(2, true)]
    [InlineData(1, true)]
    [InlineData(-4, true)]
    [InlineData(0, false)]
    public void Zeros_next_to_a_pause_are_none(int rowsToPause, bool told)
    {
        int pauseFrom = 28 + (rowsToPause > 0 ? 2 + rowsToPause : rowsToPause - 8);
        string text = TextLog.Of("time (s),power (W)", Enumerable.Range(0, 80).Select(i => 300 * i), ("F3", t => (t / 300) switch
        {
            < 8 or >= 50 => 0.143 + (0.001 * (t / 300 % 3)),
            28 or 29 when rowsToPause != 0 => 0,
            int i when i >= pauseFrom && i < pauseFrom + 10 => 0.467 + (0.001 * (i % 3)),
            int i => 6.4 + (0.005 * i),
        }));

        Assert.Equal(told, TextLog.Measure(text, MeasuringPoint.Wall).Faults.Any(f => f.Kind == FaultKind.ZeroReadings));
    }

    /// <summary>A pad that waits and looks for a device every few rows; between its pulses it takes nothing.</summary>
    [Fact]
    public void Zeros_between_the_pulses_of_a_pad_that_waits_are_none_lost()
    {
        double[] pulses = [1.2, 0, 0, 2.9, 0.3, 0, 0.9, 2.3, 0, 0, 1.8, 1.4, 0, 0, 2.6, 0.6, 0, 0.6, 2.6, 0, 0, 1.5, 1.7, 0, 0, 2.3, 0.9];
        string text = TextLog.Of("time (s),power (W)", Enumerable.Range(0, 435).Select(i => 2 * i),
            ("F1", t => pulses[t / 2 % pulses.Length]));
        Assert.DoesNotContain(TextLog.Measure(text, MeasuringPoint.Wall).Faults, f => f.Kind == FaultKind.ZeroReadings);
    }

    /// <summary>7.5 W and a fall to 1 W: in every so many rows of the charge the meter measured nothing, from its very first row on. The
    /// truth is the sum over the rows.</summary>
    [Theory]
    [InlineData(29)]
    [InlineData(97)]
    [InlineData(500)]
    public void Rows_that_are_lost_again_and_again_are_left_out(int every)
    {
        static double At(int t) => t < 600 ? 0.35 + (0.002 * (t % 5)) : t < 4000 ? 7.5 + (0.01 * (t % 7))
            : t < 6000 ? 7.5 * Math.Exp((4000 - t) / 1000.0) : 0.35 + (0.002 * (t % 5));
        string text = TextLog.Of("time (s),power (W)", Enumerable.Range(0, 7200),
            ("F3", t => t is > 600 and < 6000 && t % every == 601 % every ? 0 : At(t)));
        var log = TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.2 %"));
        var interval = log.Energy.Interval()!.Value;

        Assert.Contains(log.Faults, f => f.Kind == FaultKind.ZeroReadings && f.Count > 5390 / every * 3 / 5);
        Assert.InRange(Enumerable.Range(0, 7199).Sum(t => 0.5 * (At(t) + At(t + 1))) / 3600, interval.Low, interval.High);
    }
}
