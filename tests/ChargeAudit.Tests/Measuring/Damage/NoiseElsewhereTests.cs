using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Few rows of a meter whose noise shows where power does not move: none show it at the range's end, or while the sensor is
/// stuck.</summary>
public sealed class NoiseElsewhereTests
{
    private static readonly int[] Steps = [0, 2, 1, -1, 2, 0, -2, 1, -1, 2, -2, 0, 1, -2, 1];

    // Rows of 10 min: idle, a charge that pauses at 1.2 W and falls, and a full device.
    private static double PowerW(int i) => QuietW(i) + (0.001 * Steps[i % Steps.Length]);

    private static double QuietW(int i) => i switch
    {
        < 8 => 0.083,
        < 32 => 18 + (0.01 * i),
        < 40 => 1.166,
        < 47 => 18.3,
        < 56 => 18.3 * Math.Exp((46 - i) / 4.0),
        _ => 0.153,
    };

    [Theory]
    [InlineData(14.898, true)]
    [InlineData(18.05, true)]
    [InlineData(99, false)]
    public void The_end_of_a_range_is_told_though_a_pause_parts_it(double endW, bool told)
    {
        var log = Measure(Rows(75, 600, "F3", i => Math.Min(endW, PowerW(i))), MeasuringPoint.Wall);
        Assert.Equal(told, log.Faults.Any(f => f.Kind == FaultKind.Clipped));
    }

    // Rows of a minute: a phone in use, whose power moves by watts from row to row; then it stays to the last digit.
    [Theory]
    [InlineData(30, true)]
    [InlineData(0, false)]
    public void A_sensor_that_is_stuck_while_a_phone_is_in_use_is_told(int rows, bool told)
    {
        double[] use = [11.77, 12.97, 11.46, 8.37, 10.36, 10.79, 9.17, 10.74, 12.2, 11.75, 10.95, 10.33, 10.42, 10.48];
        double At(int i) => i < 8 ? 0.07 + (0.01 * Steps[i]) : i < 22 ? use[i - 8] : i < 22 + rows ? 10.48
            : i < 70 ? use[i % use.Length] + (0.01 * (i % 3)) : 0.3 + (0.01 * Steps[i % Steps.Length]);
        var log = Measure(Rows(150, 60, "F2", At), MeasuringPoint.Wall);
        Assert.Equal(told, log.Faults.Any(f => f.Kind == FaultKind.Stuck));
    }

    // A meter that hides its noise in its step shows none anywhere.
    [Fact]
    public void A_power_held_by_a_meter_without_visible_noise_is_neither()
    {
        var log = Measure(Rows(75, 600, "F1", QuietW), MeasuringPoint.Wall);
        Assert.DoesNotContain(log.Faults, f => f.Kind is FaultKind.Clipped or FaultKind.Stuck);
    }

    private static string Rows(int count, int everyS, string format, Func<int, double> powerW) =>
        Of("time (s),power (W)", Enumerable.Range(0, count).Select(i => everyS * i), (format, t => powerW(t / everyS)));
}
