using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>What a voltage beside tells of a sensor that is stuck.</summary>
public sealed class StuckBesideVoltageTests
{
    private static readonly int[] Steps = [0, 2, 1, -1, 2, 0, -2, 1, -1, 2, -2, 0, 1, -2, 1];

    private static double VoltageV(int i) => 9.05 + (0.003 * Steps[i * 7 % Steps.Length]);

    // 2.2 A that rise by a part in a thousand a minute, and a fall.
    private static double CurrentA(int t) => t is < 120 ? 0.0003 : t < 2400 ? 2.2 + (t / 30_000.0) : 2.28 * Math.Exp((2400 - t) / 700.0);

    [Theory]
    [InlineData(1500, 2000)]
    [InlineData(2300, 3000)]
    public void A_current_that_is_stuck_by_itself_is_told(int fromS, int toS)
    {
        var log = Measure(Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 2700).Select(i => 2 * i),
            ("F3", t => VoltageV(t / 2)), ("F4", t => CurrentA(t >= fromS && t < toS ? fromS : t))), MeasuringPoint.Usb,
            new LogOptions { Samples = SampleKind.Instantaneous }, (LogQuantity.Voltage, "0.1 %"), (LogQuantity.Current, "0.2 %"));
        var interval = log.Energy.Interval()!.Value;

        Assert.Contains(log.Faults, f => f.Kind == FaultKind.Stuck);
        Assert.InRange(Enumerable.Range(0, 2699).Sum(i => 9.05 * (CurrentA(2 * i) + CurrentA((2 * i) + 2))) / 3600, interval.Low,
            interval.High);
    }

    // The charger regulates its current to the last digit of the meter.
    [Fact]
    public void A_current_that_is_held_is_not()
    {
        var log = Measure(Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 2700).Select(i => 2 * i),
            ("F3", t => VoltageV(t / 2)), ("F3", t => t is < 120 ? 0.0003 : t < 2400 ? 2 : CurrentA(t) / 1.14)), MeasuringPoint.Usb,
            new LogOptions { Samples = SampleKind.Instantaneous });
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Stuck);
    }

    // Rows of a minute; power in steps of 0.1 W stays for long by itself, the mains voltage never does.
    [Theory]
    [InlineData(true, true)]
    [InlineData(false, false)]
    public void A_mains_voltage_that_freezes_with_the_power_tells(bool frozen, bool told)
    {
        var log = Measure(Of("time (s),voltage (V),power (W)", Enumerable.Range(0, 400).Select(i => 60 * i),
            ("F2", t => 230 + (0.07 * Steps[(frozen && t is >= 6000 and < 9000 ? 6000 : t) / 60 * 7 % Steps.Length])),
            ("F1", t => t < 600 ? 0.1 : t < 12_000 ? t is >= 6000 and < 9000 ? 10.2 : 10.3 + (0.1 * (t / 1500 % 3)) : 0.3)),
            MeasuringPoint.Wall);
        Assert.Equal(told, log.Faults.Any(f => f.Kind == FaultKind.Stuck));
    }
}
