using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>What voltage and current tell of each other: 2 A for 20 min, then a fall by e in 15 min to 0.2 A,
/// then nothing, from a supply of 9.05 V behind a resistance.</summary>
public sealed class VoltageAndCurrentTests
{
    private const double OpenV = 9.05;
    private const int HeldS = 1200;
    private const double FallS = 900;
    private const int EndS = 3270;

    private static double CurrentA(double timeS) =>
        timeS < 60 || timeS > EndS ? 0 : timeS < HeldS ? 2 : 2 * Math.Exp((HeldS - timeS) / FallS);

    private static double PowerW(double timeS, double ohm) => CurrentA(timeS) * (OpenV - (ohm * CurrentA(timeS)));

    // A tenth of a second a slice.
    private static double TrueWh(double ohm) => Enumerable.Range(0, 36_000).Sum(i => PowerW((i + 0.5) / 10, ohm)) / 36_000;

    [Theory]
    [InlineData(600, 900, 0.15)]
    [InlineData(600, 612, 0.15)]
    [InlineData(1500, 2000, 0.15)]
    [InlineData(600, 900, 0.05)]
    [InlineData(600, 900, -0.08)]
    public void Zeros_of_a_current_whose_voltage_stays_loaded_are_no_pause(int fromS, int toS, double ohm)
    {
        var log = WithZeros(fromS, toS, ohm, t => CurrentA(t));
        var interval = log.Energy.Interval()!.Value;

        Assert.Contains("under load", Assert.Single(log.Faults, f => f.Kind == FaultKind.ZeroReadings).Detail, StringComparison.Ordinal);
        Assert.InRange(TrueWh(ohm), interval.Low, interval.High);
    }

    // The device pauses, and the voltage rises; or the supply holds its voltage, and nothing can be told.
    [Theory]
    [InlineData(0.15)]
    [InlineData(0.05)]
    [InlineData(-0.08)]
    [InlineData(0)]
    public void A_pause_lets_the_voltage_rise(double ohm)
    {
        var log = WithZeros(600, 900, ohm, t => t is >= 600 and < 900 ? 0 : CurrentA(t));
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.ZeroReadings);
    }

    // Rows of 2 s; the voltage follows one current, and the other, which is zero for a while, is printed.
    private static LogMeasurement WithZeros(int fromS, int toS, double ohm, Func<int, double> flowsA) => Measure(
        Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 1801).Select(i => 2 * i),
            ("F3", t => OpenV - (ohm * flowsA(t)) + (0.001 * (t * 7 % 3))), ("F3", t => t >= fromS && t < toS ? 0 : CurrentA(t))),
        MeasuringPoint.Usb, new() { Samples = SampleKind.Instantaneous }, (LogQuantity.Voltage, "0.1 %"), (LogQuantity.Current, "0.1 %"));
}
