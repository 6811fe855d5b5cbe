using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Charges of a few steps of a coarse counter, by closed forms.</summary>
public sealed class CounterBordersTests
{
    private const double WaitW = 0.1;
    private const double FullW = 0.2;
    private const double StartS = 600;
    private const double TaperFromS = 4200;
    private const double TaperS = 1500;
    private const double EndS = TaperFromS + (3 * TaperS);
    private const double LogS = EndS + 7200;

    // Waits, 6 W for an hour, an exponential fall to a twentieth, then the full device. Energy since the start. [J]
    private static double TrueJ(double t) => t < StartS ? WaitW * t
        : t < TaperFromS ? TrueJ(StartS - 1e-9) + (6 * (t - StartS))
        : t < EndS ? TrueJ(TaperFromS - 1e-9) + (6 * TaperS * (1 - Math.Exp(-(t - TaperFromS) / TaperS)))
        : TrueJ(EndS - 1e-9) + (FullW * (t - EndS));

    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(60)]
    public void A_charge_of_eight_steps_has_an_energy_that_holds_and_no_false_maintenance(int intervalS)
    {
        const int Phases = 20;
        double trueWh = (TrueJ(EndS) - TrueJ(StartS)) / 3600;
        Assert.Equal(6 + (6 * TaperS * (1 - Math.Exp(-3)) / 3600), trueWh, 6);
        int held = 0;
        for (int k = 0; k < Phases; k++)
        {
            double phaseWh = 100 + ((k + 0.5) / Phases);
            string text = TextLog.Of("Time (s),Energy (kWh)", Enumerable.Range(0, (int)LogS / intervalS).Select(i => i * intervalS),
                ("F3", t => Math.Floor(phaseWh + (TrueJ(t) / 3600)) / 1000));
            var log = TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Energy, "0.5 %"));
            var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
            var energy = charge.Energy.Interval()!.Value;
            held += trueWh >= energy.Low && trueWh <= energy.High ? 1 : 0;
            Assert.True(energy.High - energy.Low < 4, InvariantText.Of($"{energy.Low:F2} to {energy.High:F2} Wh"));
            foreach (var mode in log.Modes.Where(m => m.Span.Mode == Mode.Maintenance && m.MeanPower.Value is not null))
            {
                var level = mode.MeanPower.Value!.Interval()!.Value;
                Assert.InRange(FullW, level.Low, level.High);
            }
        }

        Assert.InRange(held, 16, Phases);
    }

    [Fact]
    public void One_step_tells_nothing_of_a_level_beside_a_charge()
    {
        string text = TextLog.Of("Time (s),Energy (kWh)", Enumerable.Range(0, (int)LogS / 10).Select(i => i * 10),
            ("F2", t => Math.Floor((20 + (10 * TrueJ(t) / 3600)) / 10) / 100));
        var log = TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Energy, "0.5 %"));
        Assert.All(log.Modes.Where(m => m.Span.Mode != Mode.Charge), m => Assert.Null(m.MeanPower.Value));
        Assert.Contains(log.Modes, m => m.MeanPower.WhyNot is { } why && why.Contains("a level needs 2", StringComparison.Ordinal));
    }
}
