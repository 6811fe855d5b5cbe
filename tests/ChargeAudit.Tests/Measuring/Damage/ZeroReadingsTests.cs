using ChargeAudit.Logs;
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
}
