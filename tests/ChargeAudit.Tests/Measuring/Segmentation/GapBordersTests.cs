using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>
/// Rows that are lost where a charge starts or ends: the true energy is that of 0.06 W waiting, 10 W for an hour, a fall by e in 500 s to
/// 0.43 W, 0.43 W for twenty minutes, and waiting again, whatever the log shows of it.
/// </summary>
public sealed class GapBordersTests
{
    private const double PlateauW = 10;
    private const double FullW = 0.43;
    private const double WaitingW = 0.06;
    private const int PlateauS = 3600;
    private const double FallS = 500;
    private const int FullS = 1200;

    [Theory]
    [InlineData(530, 700, 540)]
    [InlineData(530, 700, 600)]
    [InlineData(530, 700, 690)]
    [InlineData(530, 560, 531)]
    [InlineData(530, 560, 545)]
    [InlineData(530, 1100, 600)]
    [InlineData(530, 1100, 1050)]
    public void A_charge_that_starts_in_a_gap_holds_all_or_nothing_of_it(int fromS, int toS, int startS)
    {
        var charge = Measured(fromS, toS, startS, out var log);
        double trueWh = ((PlateauW * PlateauS) + (FallS * (PlateauW - FullW))) / 3600;

        Assert.InRange(trueWh, charge.Energy.Interval()!.Value.Low, charge.Energy.Interval()!.Value.High);
        Assert.Contains(log.Doubts, d => d.Text.Contains($"starts in the gap from {fromS} to {toS} s", StringComparison.Ordinal));
    }

    // The device is taken off in the middle of its charge, and the log misses that moment.
    [Theory]
    [InlineData(2000)]
    [InlineData(2150)]
    [InlineData(2290)]
    public void A_charge_that_is_taken_off_in_a_gap_likewise(int takenOffS)
    {
        const int StartS = 600;
        var rows = Rows(1990, 2300, t => t < StartS || t >= takenOffS ? WaitingW : PlateauW, 4000);
        var log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        double trueWh = PlateauW * (takenOffS - StartS) / 3600;

        Assert.InRange(trueWh, charge.Energy.Interval()!.Value.Low, charge.Energy.Interval()!.Value.High);
        Assert.Contains(log.Doubts, d => d.Text.Contains("ends in the gap from 1990 to 2300 s", StringComparison.Ordinal));
    }

    // A gap longer than what is left of the charge may have held nearly all of it, or next to nothing.
    [Theory]
    [InlineData(620, 3000)]
    [InlineData(1100, 3000)]
    [InlineData(2500, 3000)]
    public void A_gap_longer_than_the_rest_of_the_charge_is_open_to_a_plateau_all_over_it(int startS, int takenOffS)
    {
        var rows = Rows(600, 2600, t => t < startS || t >= takenOffS ? WaitingW : PlateauW, 4000);
        var log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        double trueWh = PlateauW * (takenOffS - startS) / 3600;

        Assert.InRange(trueWh, charge.Energy.Interval()!.Value.Low, charge.Energy.Interval()!.Value.High);
    }

    // Two or three rows of a minute that are lost there are no gap yet, but the border lies anywhere among them.
    [Theory]
    [InlineData(181, 60)]
    [InlineData(121, 119)]
    [InlineData(181, 179)]
    [InlineData(181, 1)]
    public void Rows_that_are_lost_at_a_border_leave_it_open(int lostS, int startedBeforeS)
    {
        const int FirstBackS = 3600;
        int startS = FirstBackS - startedBeforeS;
        var rows = TextLog.Of("time (s),power (W)", Enumerable.Range(0, 200).Select(i => 60 * i)
            .Where(t => t <= FirstBackS - lostS - 59 || t >= FirstBackS), ("F3", t => t < startS || t >= 9630 ? WaitingW : PlateauW));
        var log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        double trueWh = PlateauW * (9630 - startS) / 3600;

        Assert.InRange(trueWh, charge.Energy.Interval()!.Value.Low, charge.Energy.Interval()!.Value.High);
        Assert.DoesNotContain(log.Doubts, d => d.Text.Contains("in the gap", StringComparison.Ordinal));
    }

    // A counter of 1 Wh makes no step in the gap, which is no sign that nothing flowed.
    [Theory]
    [InlineData(5700, 7200)]
    [InlineData(6000, 6900)]
    [InlineData(6500, 6800)]
    public void A_stretch_in_which_a_coarse_counter_made_no_step_is_no_mode(int fromS, int toS)
    {
        const int StartS = 900;
        var powerW = new List<double>();
        var countWh = new List<double>();
        double sumWh = 0.5;
        for (int t = 0; t < 10_000; t++)
        {
            int into = t - StartS - PlateauS;
            powerW.Add(t < StartS || t >= 9000 ? WaitingW : into < 0 ? PlateauW : Math.Max(FullW, PlateauW * Math.Exp(-into / FallS)));
            countWh.Add(Math.Floor(sumWh));
            sumWh += powerW[t] / 3600;
        }

        double trueWh = ((PlateauW * PlateauS) + (FallS * (PlateauW - FullW))) / 3600;
        var rows = TextLog.Of("time (s),power (W),energy (Wh)", Enumerable.Range(0, 1000).Select(i => 10 * i)
            .Where(t => t <= fromS || t >= toS), ("F3", t => powerW[t]), ("F0", t => countWh[t]));
        var log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);

        Assert.DoesNotContain(log.Modes, m => m.Span.Mode == Mode.Off);
        Assert.InRange(trueWh, charge.Energy.Interval()!.Value.Low, charge.Energy.Interval()!.Value.High);
    }

    // A counter of 1 Wh stood still and came again while the power fell by rows further and further apart: stretches without a step join up
    // to the last mode of the log.
    [Fact]
    public void Stretches_without_a_step_may_join_up_to_the_end_of_the_log()
    {
        const string Rows = """
            time (s),power (W),energy (kWh)
            2982,8.83,0.007
            3078,8.33,0.007
            3204,7.80,0.007
            3336,7.30,0.007
            3482,6.80,0.014
            3634,6.27,0.014
            6228,1.73,0.017
            6996,1.23,0.017
            7388,0.56,0.017
            8288,0.56,0.017

            """;
        var log = TextLog.Measure(Rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));

        Assert.All(log.Modes.Zip(log.Modes.Skip(1)), pair => Assert.Equal(pair.First.Span.EndS, pair.Second.Span.StartS, 6));
        Assert.InRange(log.Modes[^1].Span.EndS, 5000, 5400);
    }

    // What is lost while nothing changes leaves the borders as they are.
    [Fact]
    public void A_gap_elsewhere_is_no_border()
    {
        var charge = Measured(2000, 2100, 600, out var log);

        Assert.Equal(600, charge.Span.StartS, 1.0);
        Assert.Null(charge.Span.OpenAtStart);
        Assert.DoesNotContain(log.Doubts, d => d.Text.Contains("in the gap", StringComparison.Ordinal));
    }

    private static ModeResult Measured(int gapFromS, int gapToS, int startS, out LogMeasurement log)
    {
        int fallS = (int)(FallS * Math.Log(PlateauW / FullW));
        double Power(int t)
        {
            int into = t - startS - PlateauS;
            return t < startS || into >= fallS + FullS ? WaitingW
                : into < 0 ? PlateauW
                : into < fallS ? PlateauW * Math.Exp(-into / FallS)
                : FullW;
        }

        string rows = Rows(gapFromS, gapToS, Power, startS + PlateauS + fallS + FullS + 900);
        log = TextLog.Measure(rows, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"));
        return Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
    }

    private static string Rows(int gapFromS, int gapToS, Func<int, double> powerW, int endS) =>
        TextLog.Of("time (s),power (W)", Enumerable.Range(0, endS).Where(t => t <= gapFromS || t >= gapToS), ("F3", powerW));
}
