using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Readings in steps that hide the fall of a charge, beside a counter that shows it. Power second by second is written down here, and
/// its sum is the truth.</summary>
public sealed class CoarseReadingsTests
{
    private const double WaitingW = 0.25, ChargeW = 8, EndW = 1.1, FullW = 0.6;
    private const int WaitingS = 120, FirstS = 1700, FallS = 1450, FullS = 2400;

    private static readonly int FallLengthS = (int)(FallS * Math.Log(ChargeW / EndW));

    private static readonly List<double> PowerW =
    [
        .. Enumerable.Repeat(WaitingW, WaitingS), .. Enumerable.Repeat(ChargeW, FirstS),
        .. Enumerable.Range(0, FallLengthS).Select(t => ChargeW * Math.Exp(-(t + 0.5) / FallS)), .. Enumerable.Repeat(FullW, FullS),
    ];

    /// <summary>Shown in whole or half watts the fall is a few flat stages, of which 1 W looks like a full device.</summary>
    [Theory]
    [InlineData(1, 0.01, 1)]
    [InlineData(1, 0.1, 1)]
    [InlineData(1, 0.01, 10)]
    [InlineData(0.5, 0.01, 2)]
    [InlineData(0.5, 0.001, 1)]
    public void A_finer_counter_tells_the_charge_that_coarse_readings_cut_short(double readingStepW, double counterStepWh, int intervalS)
    {
        var log = Measure(t => readingStepW * Math.Floor(PowerW[t] / readingStepW), counterStepWh, intervalS, startsAboveW: 0);

        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.Equal("energy counter", log.PowerFrom);
        Assert.Equal(ChargeWh, charge.Energy.Value, 0.015 * ChargeWh);
        var full = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Maintenance);
        if (full.MeanPower.Value is { } level)
        {
            Assert.Equal(FullW, level.Value, 0.05 * FullW);
        }

        Assert.Contains(log.Doubts, d => d.Text.Contains("too coarse", StringComparison.Ordinal));
    }

    /// <summary>Readings of 0.1 W hide nothing of 8 W; a counter that stands still below 0.8 W knows less of the full device than they do; one
    /// of 1 Wh says too seldom what flows.</summary>
    [Theory]
    [InlineData(0.1, 0.01, 0)]
    [InlineData(0.5, 0.01, 0.8)]
    [InlineData(0.5, 1, 0)]
    public void Readings_stand_where_they_are_fine_or_the_counter_knows_less(double readingStepW, double counterStepWh, double startsAboveW)
    {
        var log = Measure(t => readingStepW * Math.Round(PowerW[t] / readingStepW), counterStepWh, intervalS: 1, startsAboveW);

        Assert.Equal("power column", log.PowerFrom);
        Assert.DoesNotContain(log.Doubts, d => d.Text.Contains("too coarse", StringComparison.Ordinal));
    }

    /// <summary>A counter that never moves may stand below its starting power, and knows nothing of half a watt that the readings show.
    /// </summary>
    [Fact]
    public void Readings_stand_beside_a_counter_that_never_moves()
    {
        int[] shownW = [0, 1, 0, 2, 0, 0];
        string text = TextLog.Of("Time (s),Power (W),Energy (Wh)", Enumerable.Range(0, 3600), ("F0", t => shownW[t % 6]), ("F2", _ => 40));

        var log = TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Power, "1 % + 0.05 W"), (LogQuantity.Energy, "1 %"));

        Assert.Equal("power column", log.PowerFrom);
        Assert.Equal(0.5, log.Energy.Value, 0.01);
    }

    /// <summary>5 min in mid-charge, and 10, that nobody saw: the counter's advance over them is the charge's, at the charge's power.
    /// </summary>
    [Theory]
    [InlineData(1, 300)]
    [InlineData(1, 600)]
    [InlineData(5, 300)]
    public void Over_a_gap_the_counter_goes_on_as_before(int intervalS, int gapS)
    {
        var sums = Sums(startsAboveW: 0);
        string text = TextLog.Of("Time (s),Energy (Wh)", Enumerable.Range(0, PowerW.Count / intervalS).Select(i => i * intervalS)
            .Where(t => t is < 900 || t >= 900 + gapS), ("F3", t => 0.01 * Math.Floor((sums[t] + 1e-9) / 0.01)));

        var log = TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Energy, "1 %"));

        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.Equal(ChargeWh, charge.Energy.Value, 0.015 * ChargeWh);

        // A second beside the gap is known to half a step of 0.01 Wh, which is 18 W for that long.
        Assert.InRange(log.PeakPowerW, ChargeW, ChargeW + 18);
    }

    /// <summary>Readings in steps of 0.1 W, and a counter that stands still below 0.5 W: what waits is as the readings say.</summary>
    [Theory]
    [InlineData(0.001)]
    [InlineData(0.01)]
    public void A_counter_that_stands_still_does_not_say_that_nothing_flows(double counterStepWh)
    {
        var log = Measure(t => 0.1 * Math.Round(PowerW[t] / 0.1), counterStepWh, intervalS: 1, startsAboveW: 0.5);

        var waiting = log.Modes[0].MeanPower.Value!.Interval()!.Value;
        Assert.InRange(WaitingW, waiting.Low, waiting.High);
    }

    private static double ChargeWh => PowerW.Skip(WaitingS).Take(FirstS + FallLengthS).Sum() / 3600;

    private static List<double> Sums(double startsAboveW)
    {
        var sums = new List<double> { 40.003 };
        PowerW.ForEach(w => sums.Add(sums[^1] + (w > startsAboveW ? w / 3600 : 0)));
        return sums;
    }

    private static LogMeasurement Measure(Func<int, double> shownW, double counterStepWh, int intervalS, double startsAboveW)
    {
        var sums = Sums(startsAboveW);
        string text = TextLog.Of("Time (s),Power (W),Energy (Wh)", Enumerable.Range(0, PowerW.Count / intervalS).Select(i => i * intervalS),
            ("F1", shownW), ("F3", t => counterStepWh * Math.Floor((sums[t] + 1e-9) / counterStepWh)));
        return TextLog.Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Power, "1 % + 0.05 W"), (LogQuantity.Energy, "1 %"));
    }
}
