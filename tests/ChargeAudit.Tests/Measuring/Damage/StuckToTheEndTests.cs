using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>
/// A sensor that stops in the fall of a charge and does so to the log's end: nothing comes after it that would tell. A fall flattens, or
/// drops where the charge is ended; it does not stop halfway at its full rate. Expected energies by the closed form of the fall.
/// </summary>
public sealed class StuckToTheEndTests
{
    private const int StartS = 600;
    private const int FallS = 3000;
    private const int EndS = 9000;

    [Theory]
    [InlineData(10, 1500, 4.5)]
    [InlineData(30, 900, 3.0)]
    [InlineData(5, 1200, 6.0)]
    public void A_fall_that_stops_halfway_at_its_full_rate_is_told_and_the_charge_is_left_open(int stepS, double tauS, double stopW)
    {
        LogMeasurement log = Measured(stepS, t => Power(t, tauS), stopW);

        Fault stuck = Assert.Single(log.Faults, f => f.Kind == FaultKind.Stuck);
        Assert.Contains("the sensor was stuck", stuck.Detail, StringComparison.Ordinal);
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge).Energy.Interval();
        double trueWh = ((15 * (FallS - StartS)) + (15 * tauS * (1 - Math.Exp(-(EndS - FallS) / tauS)))) / 3600;
        Assert.InRange(trueWh, charge!.Value.Low, charge.Value.High);
    }

    // The full device takes 3 W or 1 W, where the fall is met by that level in mid-step, flattens towards it, or is ended by a drop to it;
    // in the last case it is taken off later.
    [Theory]
    [InlineData(600, "met")]
    [InlineData(60, "flattens")]
    [InlineData(10, "drops")]
    [InlineData(600, "is taken off")]
    public void A_full_device_that_takes_its_power_evenly_is_not_stuck(int stepS, string how)
    {
        double At(double t) => t < StartS ? 0.2 : how switch
        {
            "met" => Math.Max(3, Power(t, 1500)),
            "is taken off" => t < 6600 ? Power(t, 1484) : t < 15_000 ? 1 : 0.2,
            "flattens" => Math.Max(3, 3 + (12 * Math.Exp(-Math.Max(0, t - FallS) / 900))),
            _ => t < FallS + 1200 ? Power(t, 1500) : 3,
        };

        Assert.DoesNotContain(Measured(stepS, At, 0, how == "is taken off" ? 2 * EndS : EndS).Faults, f => f.Kind == FaultKind.Stuck);
    }

    private static double Power(double t, double tauS) => t < StartS ? 0.2 : t < FallS ? 15 : 15 * Math.Exp(-(t - FallS) / tauS);

    // A plateau that scatters by some 20 mW, and a fall to the last digit.
    private static LogMeasurement Measured(int stepS, Func<double, double> at, double stopW, int endS = EndS)
    {
        var dice = new Random(7);
        double last = 0;
        double Reading(int t)
        {
            last = at(t) < stopW && t > FallS ? last : at(t) + (t < FallS ? 0.04 * (dice.NextDouble() - 0.5) : 0);
            return last;
        }

        string text = TextLog.Of("time (s),power (W)", Enumerable.Range(0, endS / stepS).Select(i => i * stepS), ("F3", Reading));
        return TextLog.Measure(text, MeasuringPoint.Wall, stated: (LogQuantity.Power, "1 %"));
    }
}
