using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Charges whose fall shows in a few rows, or before a level that is longer than all of it: the truth is the integral of the
/// course that the rows were taken from.</summary>
public sealed class FallOfFewRowsTests
{
    private const double WaitingS = 3600, PlateauS = 10_800, FullS = 14_400, LastS = 7200;
    private const double WaitingW = 0.2, PlateauW = 10;

    // Rows so slow that only two to twenty of them lie in the fall, in two positions each.
    [Theory]
    [InlineData(300, 120, 0.37)]
    [InlineData(300, 120, 0.8)]
    [InlineData(300, 180, 0.8)]
    [InlineData(300, 300, 0.37)]
    [InlineData(300, 300, 0.8)]
    [InlineData(300, 600, 0.37)]
    [InlineData(900, 300, 0.37)]
    [InlineData(900, 300, 0.8)]
    [InlineData(900, 450, 0.37)]
    [InlineData(900, 450, 0.8)]
    [InlineData(900, 600, 0.8)]
    [InlineData(1800, 600, 0.37)]
    public void A_charge_goes_on_to_the_end_of_its_fall(int fallS, int intervalS, double phase)
    {
        const double FullW = 0.8;
        var rows = Rows(intervalS, phase, t => PowerW(t, fallS, FullW, 6 * fallS));
        var charge = Charge(rows);

        var interval = charge.Energy.Interval()!.Value;
        // From where power stands a hundredth of the plateau above its level, the end is a matter of taste.
        Assert.InRange(interval.High, ChargeWh(fallS, FullW, Math.Log(100) * fallS), double.PositiveInfinity);
        Assert.InRange(interval.Low, 0, ChargeWh(fallS, FullW, 6 * fallS));
        Assert.InRange(interval.High - interval.Low, 0, 0.1 * ChargeWh(fallS, FullW, 6 * fallS));
    }

    // A fall that breaks off, as a charger ends it at a share of its power: the end lies between two rows.
    [Theory]
    [InlineData(900, 120, 0.37, 2.3)]
    [InlineData(900, 180, 0.8, 1.6)]
    [InlineData(1500, 300, 0.5, 2.3)]
    [InlineData(1500, 60, 0.1, 1.6)]
    public void A_fall_that_breaks_off_ends_there(int fallS, int intervalS, double phase, double breaksOff)
    {
        const double FullW = 0.5;
        var rows = Rows(intervalS, phase, t => PowerW(t, fallS, FullW, breaksOff * fallS));
        var charge = Charge(rows);

        var interval = charge.Energy.Interval()!.Value;
        Assert.InRange(ChargeWh(fallS, FullW, breaksOff * fallS), interval.Low, interval.High);
    }

    // Four hours of a high level behind a fall of minutes, or one behind a slow fall, are no part of the charge.
    [Theory]
    [InlineData(1000, 60, 2.5, 1.0)]
    [InlineData(1000, 30, 2.5, 1.0)]
    [InlineData(2400, 120, 5, 0.7)]
    [InlineData(700, 120, 5, 1.2)]
    public void A_long_level_behind_a_fall_is_the_full_device(int fallS, int intervalS, double plateauW, double fullW)
    {
        var rows = Rows(intervalS, 0.3, t => PowerW(t, fallS, fullW, 6 * fallS, plateauW));
        var log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        var full = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Maintenance);

        Assert.InRange(charge.Span.EndS, WaitingS + PlateauS + (3 * fallS), WaitingS + PlateauS + (6 * fallS) + (2 * intervalS));
        Assert.Equal(fullW, full.MeanPower.Value!.Value, 0.02 * fullW);
    }

    // Rows that scatter by a hundredth come up again now and then on their way down.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Scatter_does_not_end_a_fall_early(int seed)
    {
        const int FallS = 900, IntervalS = 300;
        var random = new Random(seed);
        var rows = Rows(IntervalS, 0.6, t => PowerW(t, FallS, 0.8, 6 * FallS) * (1 + (0.01 * (random.NextDouble() - 0.5))));
        var charge = Charge(rows);

        var interval = charge.Energy.Interval()!.Value;
        Assert.InRange(ChargeWh(FallS, 0.8, 6 * FallS), interval.Low, interval.High);
    }

    private static double PowerW(double timeS, double fallS, double fullW, double fallsForS, double plateauW = PlateauW)
    {
        double intoS = timeS - WaitingS - PlateauS, fullFromS = fallsForS;
        return timeS < WaitingS || intoS >= fullFromS + FullS ? WaitingW
            : intoS < 0 ? plateauW
            : intoS < fallsForS ? fullW + ((plateauW - fullW) * Math.Exp(-intoS / fallS))
            : fullW;
    }

    private static double ChargeWh(double fallS, double fullW, double fallsForS) =>
        ((PlateauW * PlateauS) + (fullW * fallsForS) + ((PlateauW - fullW) * fallS * (1 - Math.Exp(-fallsForS / fallS)))) / 3600;

    private static string Rows(int intervalS, double phase, Func<double, double> powerW)
    {
        int first = (int)(phase * intervalS), last = (int)(WaitingS + PlateauS + FullS + LastS) + 10_000;
        return TextLog.Of("time (s),power (W)", Enumerable.Range(0, (last - first) / intervalS).Select(i => first + (i * intervalS)),
            ("F4", t => powerW(t)));
    }

    private static ModeResult Charge(string rows) => Assert.Single(
        TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %")).Modes, m => m.Span.Mode == Mode.Charge);
}
