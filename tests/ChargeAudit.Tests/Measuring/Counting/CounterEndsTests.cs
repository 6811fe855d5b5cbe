using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>Ends of charges that a counter alone shows, by closed forms: 0.1 W, an hour of 8 W, an exponential fall to an eighth of it,
/// then the full device, then 0.1 W again.</summary>
public sealed class CounterEndsTests
{
    private const double WaitW = 0.1;
    private const double HighW = 8;
    private const double StartS = 500;
    private const double FallFromS = StartS + 3600;
    private const double FallS = 900;
    private static readonly double EndS = FallFromS + (FallS * Math.Log(8));

    [Theory]
    [InlineData(0.001, 1, 0.5, 0)]
    [InlineData(0.001, 30, 0.5, 0)]
    [InlineData(0.01, 1, 0.5, 0)]
    [InlineData(0.01, 10, 0.3, 0)]
    [InlineData(0.1, 1, 0.5, 0)]
    [InlineData(0.1, 30, 0.3, 0)]
    [InlineData(0.001, 1, 0.5, 0.6)]
    [InlineData(0.01, 1, 0.5, 0.6)]
    [InlineData(0.001, 120, 0.5, 0)]
    public void The_energy_holds_at_every_phase_and_the_full_device_is_no_part_of_it(
        double stepWh, int intervalS, double fullW, double pulseW)
    {
        const int Phases = 15;
        double trueWh = (EnergyJ(EndS, fullW, pulseW, 3000) - EnergyJ(StartS, fullW, pulseW, 3000)) / 3600;
        Assert.Equal((HighW * 3600 / 3600) + (HighW * FallS * (7.0 / 8) / 3600), trueWh, 9);
        int held = 0;
        for (int k = 0; k < Phases; k++)
        {
            var log = Log(stepWh, intervalS, fullW, pulseW, 3000, 40 + (stepWh * (k + 0.5) / Phases));
            var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
            var energy = charge.Energy.Interval()!.Value;
            held += trueWh >= energy.Low && trueWh <= energy.High ? 1 : 0;

            // Half a step at each end, a step or two at the border, and 1 %: an ideal reader would need half of it.
            double widthWh = energy.High - energy.Low;
            Assert.True(widthWh < (6 * stepWh) + (0.04 * trueWh), InvariantText.Of($"{energy.Low:F3} to {energy.High:F3}"));
            foreach (var level in log.Modes.Where(m => m.Span.Mode == Mode.Maintenance).Select(m => m.MeanPower.Value).OfType<Measured>())
            {
                double meanW = fullW + (pulseW * 15 / 60);
                var power = level.Interval()!.Value;
                Assert.InRange(meanW, power.Low - (0.02 * meanW), power.High + (0.02 * meanW));
            }
        }

        Assert.InRange(held, 14, Phases);
    }

    [Theory]
    [InlineData(0.1, 1)]
    [InlineData(0.1, 30)]
    public void A_full_device_that_is_taken_off_too_soon_to_show_leaves_the_end_open(double stepWh, int intervalS)
    {
        double trueWh = (EnergyJ(EndS, 0.5, 0, 60) - EnergyJ(StartS, 0.5, 0, 60)) / 3600;
        for (int k = 0; k < 10; k++)
        {
            var log = Log(stepWh, intervalS, 0.5, 0, 60, 40 + (stepWh * (k + 0.5) / 10));
            var energy = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge).Energy.Interval()!.Value;
            Assert.InRange(trueWh, energy.Low, energy.High);
        }
    }

    private static ChargeAudit.Measuring.LogMeasurement Log(double stepWh, int intervalS, double fullW, double pulseW, double fullS,
        double phaseWh) =>
        TextLog.Measure(
            TextLog.Of("Time (s),Energy (Wh)", Enumerable.Range(0, (int)(EndS + fullS + 1500) / intervalS).Select(i => i * intervalS),
                ("F3", t => stepWh * Math.Floor((phaseWh + (EnergyJ(t, fullW, pulseW, fullS) / 3600)) / stepWh))),
            MeasuringPoint.Wall, null, (LogQuantity.Energy, "0.5 %"));

    // Energy since the start; the full device takes pulses of 15 s once a minute. [J]
    private static double EnergyJ(double t, double fullW, double pulseW, double fullS)
    {
        double energy = WaitW * Math.Min(t, StartS);
        energy += HighW * Math.Clamp(t - StartS, 0, FallFromS - StartS);
        energy += HighW * FallS * (1 - Math.Exp(-Math.Clamp(t - FallFromS, 0, EndS - FallFromS) / FallS));
        double full = Math.Clamp(t - EndS, 0, fullS);
        energy += (fullW * full) + (pulseW * ((15 * Math.Floor(full / 60)) + Math.Min(15, full % 60)));
        return energy + (WaitW * Math.Max(0, t - EndS - fullS));
    }
}
