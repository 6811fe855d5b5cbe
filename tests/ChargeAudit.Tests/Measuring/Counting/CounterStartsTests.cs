using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>
/// Starts of charges in slow rows of a counter, with power written down second by second and its sum as the truth. Wherever in a row the
/// charge starts, the counter has its energy.
/// </summary>
public sealed class CounterStartsTests
{
    private const double WaitingW = 0.45;
    private const double FullW = 0.2;
    private const int Starts = 10;

    /// <summary>The interval reaches over the start by no more than two steps and what waits in a row; without the rule it was a third of
    /// what a row of the charge holds.</summary>
    [Theory]
    [InlineData(60, 0.001, 0)]
    [InlineData(60, 0.001, 90)]
    [InlineData(120, 0.01, 0)]
    [InlineData(300, 0.01, 0)]
    [InlineData(600, 0.01, 0)]
    [InlineData(600, 0.01, 200)]
    [InlineData(600, 0.1, 0)]
    [InlineData(900, 0.1, 0)]
    public void The_charge_has_its_energy_wherever_in_a_row_it_starts(int intervalS, double stepWh, int rampS) =>
        Holds(intervalS, stepWh, rampS, 6);

    /// <summary>Three rows of waiting are enough.</summary>
    [Theory]
    [InlineData(60, 0.001)]
    [InlineData(300, 0.01)]
    [InlineData(600, 0.01)]
    [InlineData(600, 0.001)]
    public void Three_rows_show_what_waits(int intervalS, double stepWh) => Holds(intervalS, stepWh, 0, 3);

    private static void Holds(int intervalS, double stepWh, int rampS, int waitingRows)
    {
        int held = 0;
        for (int k = 0; k < Starts; k++)
        {
            int startS = (waitingRows * intervalS) + (intervalS * k / Starts);
            var (power, chargeWh) = Power(startS, rampS, Math.Max(3600, 14 * intervalS));
            var log = CounterLog.Of(power, stepWh, intervalS, stepWh * ((k * 7 % Starts) + 0.5) / Starts);
            var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
            var waiting = log.Modes[log.Modes.TakeWhile(m => m != charge).Count() - 1];

            var energy = charge.Energy.Interval()!.Value;
            held += chargeWh >= energy.Low && chargeWh <= energy.High ? 1 : 0;
            Assert.InRange(charge.Energy.Value, chargeWh - Allowed(), chargeWh + Allowed());
            Assert.InRange(charge.Span.StartS, startS - intervalS, startS + intervalS + rampS);
            Assert.InRange(waiting.Energy.Value, (WaitingW * startS / 3600) - Allowed(), (WaitingW * startS / 3600) + Allowed());
        }

        Assert.InRange(held, Starts - 1, Starts);

        // Two steps, the energy of waiting in a row, and the energy of a row at the end of the fall.
        double Allowed() => (2.5 * stepWh) + ((WaitingW + (2 * FullW)) * intervalS / 3600) + (0.2 * rampS / 3600);
    }

    /// <summary>15 W for a while, reached by a ramp or at once, then a fall to what a full device takes.</summary>
    private static (List<double> Power, double ChargeWh) Power(int startS, int rampS, int highS)
    {
        const double HighW = 15;
        int fallS = (int)(1200 * Math.Log(HighW / FullW));
        var charge = Enumerable.Range(0, rampS).Select(t => HighW * (t + 0.5) / rampS)
            .Concat(Enumerable.Repeat(HighW, highS))
            .Concat(Enumerable.Range(0, fallS).Select(t => HighW * Math.Exp(-(t + 0.5) / 1200))).ToList();
        return ([.. Enumerable.Repeat(WaitingW, startS), .. charge, .. Enumerable.Repeat(FullW, 12_000)], charge.Sum() / 3600);
    }
}
