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

    // In the fall, where currents on either side differ by five, and at the very start and end of the charge.
    [Theory]
    [InlineData(1300, 2600)]
    [InlineData(60, 200)]
    [InlineData(2600, 3271)]
    public void Zeros_of_a_current_are_no_pause_either_where_the_currents_beside_differ(int fromS, int toS)
    {
        var log = WithZeros(fromS, toS, 0.15, t => CurrentA(t));
        var interval = log.Energy.Interval()!.Value;

        Assert.Contains(log.Faults, f => f.Kind == FaultKind.ZeroReadings);
        Assert.InRange(TrueWh(0.15), interval.Low, interval.High);
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

    [Theory]
    [InlineData(300)]
    [InlineData(900)]
    [InlineData(2000)]
    public void Columns_that_change_places_are_refused_with_the_line(int atS)
    {
        var refused = Assert.Throws<InputException>(() => Beside(t => t < atS ? CurrentA(t) : PowerW(t, 0.1),
            t => t < atS ? PowerW(t, 0.1) : CurrentA(t)));
        Assert.StartsWith(InvariantText.Of($"log.csv, line {atS + 2}: power was voltage times current"), refused.Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Power_of_another_outlet_from_a_row_on_is_refused_with_the_line()
    {
        var refused = Assert.Throws<InputException>(() => Beside(t => CurrentA(t), t => PowerW(t, 0.1) + (t < 900 ? 0 : 8.3)));
        Assert.StartsWith("log.csv, line 902:", refused.Message, StringComparison.Ordinal);
    }

    // A display that shows the mean of the last half minute, and one that is 15 % off throughout.
    [Theory]
    [InlineData(30, 1)]
    [InlineData(1, 1.15)]
    public void Power_that_lags_or_is_a_little_off_is_not_refused(int meanOfS, double factor)
    {
        var log = Beside(t => CurrentA(t), t => factor * Enumerable.Range(0, meanOfS).Average(k => PowerW(t - k, 0.1)));
        Assert.Equal(factor * TrueWh(0.1), log.Energy.Value, 0.02);
    }

    // After the charge a pad looks for a device every third row: its display shows the mean of the last three, its current the instant.
    [Fact]
    public void Pulses_of_a_pad_that_waits_are_no_columns_that_change_places()
    {
        static double Pulsed(int t) => t < EndS ? CurrentA(t) : t % 3 == 0 ? 0.25 : 0.02;
        var log = Beside(Pulsed, t => t < EndS ? PowerW(t, 0.1) : Enumerable.Range(0, 3).Average(k => OpenV * Pulsed(t - k)));
        Assert.NotEmpty(log.Sessions);
    }

    private static LogMeasurement Beside(Func<int, double> currentA, Func<int, double> powerW) => Measure(
        Of("time (s),voltage (V),current (A),power (W)", Enumerable.Range(0, 3601), ("F3", t => OpenV - (0.1 * CurrentA(t))),
            ("F4", currentA), ("F4", powerW)),
        MeasuringPoint.Usb, new() { Samples = SampleKind.Instantaneous }, (LogQuantity.Voltage, "0.1 %"), (LogQuantity.Current, "0.1 %"),
        (LogQuantity.Power, "0.2 %"));
}
