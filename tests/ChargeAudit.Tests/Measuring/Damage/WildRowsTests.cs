using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Some rows of a steady charge that jump about far above it, or lie below zero.</summary>
public sealed class WildRowsTests
{
    private static readonly double[] Factors = [4.1, 2.3, 7.8, 3.2, 5.5, 2.9, 6.4, 2.6, 4.8];

    private static double PowerW(int t) => t is < 300 or > 4800 ? 0.1 : 11.5 + (t / 5000.0) + (0.01 * (t * 7 % 5));

    private static double TrueWh => Enumerable.Range(0, 5399).Sum(t => 0.5 * (PowerW(t) + PowerW(t + 1))) / 3600;

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(6)]
    [InlineData(20)]
    public void That_jump_about_above_a_steady_charge_are_left_out(int rows)
    {
        var log = Of(t => t >= 1500 && t < 1500 + rows ? Factors[t % Factors.Length] * PowerW(t) : PowerW(t));
        var interval = log.Energy.Interval()!.Value;

        Assert.Equal(rows, Assert.Single(log.Faults, f => f.Kind == FaultKind.Implausible).Count);
        Assert.InRange(TrueWh, interval.Low, interval.High);
    }

    // A load that rises for a while, evenly or not, and one that jumps about as the whole log does.
    [Theory]
    [InlineData("even")]
    [InlineData("slow")]
    [InlineData("lively")]
    public void A_load_that_rises_for_a_while_is_true(string how)
    {
        var log = Of(t => how switch
        {
            "even" => t is >= 1500 and < 1512 ? 2.5 * PowerW(t) : PowerW(t),
            "slow" => t is >= 1500 and < 1700 ? PowerW(t) * (1.6 + (0.3 * Math.Sin((t - 1500) / 20.0))) : PowerW(t),
            _ => PowerW(t) * (t is > 600 and < 4000 ? 1 + (0.2 * Factors[t / 3 % Factors.Length]) : 1),
        });
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Implausible);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void That_lie_below_zero_in_a_charge_are_left_out_as_in_a_gap(int rows)
    {
        var log = Of(t => t >= 1500 && t < 1500 + rows ? -0.7 * PowerW(t) : PowerW(t));
        var interval = log.Energy.Interval()!.Value;

        Assert.Equal(rows, Assert.Single(log.Faults, f => f.Kind == FaultKind.Reversed).Count);
        Assert.InRange(TrueWh, interval.Low, interval.High);
        Assert.InRange(interval.High - interval.Low, 0, 0.06 * TrueWh);
    }

    private static LogMeasurement Of(Func<int, double> powerW) => Measure(
        TextLog.Of("time (s),power (W)", Enumerable.Range(0, 5400), ("F3", powerW)), MeasuringPoint.Wall, null,
        (LogQuantity.Power, "0.2 %"));
}
