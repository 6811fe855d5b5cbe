using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Energy and mean power of the modes of logs whose powers are known exactly.</summary>
public sealed class ModeFiguresTests
{
    private const double WaitingW = 0.1;
    private const double FullW = 0.3;

    public static TheoryData<double, SampleKind> Meters()
    {
        var data = new TheoryData<double, SampleKind>();
        foreach (double interval in new[] { 0.25, 1, 10, 30, 60 })
        {
            data.Add(interval, SampleKind.Instantaneous);
            data.Add(interval, SampleKind.AverageEnding);
            data.Add(interval, SampleKind.AverageStarting);
        }

        return data;
    }

    // 0.100 W and 0.300 W to the last digit: any row that touches the charge of 10 W would show at once.
    [Theory]
    [MemberData(nameof(Meters))]
    public void Waiting_and_full_hold_nothing_of_the_charge(double intervalS, SampleKind kind)
    {
        foreach (double phase in new[] { 0, 0.37, 0.71 })
        {
            var modes = Modes(300, 3900, 5700, intervalS, kind, phase * intervalS);
            HoldsOrSays(modes[0], Mode.NoLoad, WaitingW, intervalS <= 30);
            HoldsOrSays(modes[^1], Mode.Maintenance, FullW, true);
        }
    }

    [Theory]
    [InlineData(SampleKind.Instantaneous)]
    [InlineData(SampleKind.AverageEnding)]
    [InlineData(SampleKind.AverageStarting)]
    public void A_quarter_of_an_hour_between_rows_needs_longer_stretches(SampleKind kind)
    {
        var modes = Modes(10_000, 46_000, 70_000, 900, kind, 200);
        HoldsOrSays(modes[0], Mode.NoLoad, WaitingW, true);
        HoldsOrSays(modes[^1], Mode.Maintenance, FullW, true);
    }

    [Fact]
    public void A_stretch_too_short_for_a_figure_says_so()
    {
        var waiting = Modes(120, 3900, 5700, 60, SampleKind.AverageEnding, 0)[0];
        Assert.Equal(Mode.NoLoad, waiting.Span.Mode);
        Assert.Null(waiting.MeanPower.Value);
        Assert.Contains("lies wholly inside it", waiting.MeanPower.WhyNot, StringComparison.Ordinal);
        Assert.True(waiting.Energy.Value > 0);
    }

    // 300 s of 0.1 W, 1 h of 10 W and 30 min of 0.3 W: 10.1583 Wh. What a border gives to one mode it takes from the other.
    [Theory]
    [InlineData(1, SampleKind.Instantaneous)]
    [InlineData(10, SampleKind.AverageEnding)]
    [InlineData(60, SampleKind.AverageEnding)]
    public void The_modes_add_up_to_the_log_and_their_borders_cancel(double intervalS, SampleKind kind)
    {
        var log = Log(300, 3900, 5700, intervalS, kind, 0);
        var modes = log.Result.Modes;
        Assert.Equal(log.Result.Energy.Value, modes.Sum(m => m.Energy.Value), 1e-9);
        for (int i = 1; i < modes.Count; i++)
        {
            Assert.Equal(modes[i - 1].Span.EndS, modes[i].Span.StartS);
        }

        var borders = modes[1].Energy.Components.Where(c => c.Source.Id.Contains("border", StringComparison.Ordinal)).ToList();
        Assert.Equal(2, borders.Count);
        Assert.True(borders.TrueForAll(b => b.SignedStandardUncertainty != 0));
        Assert.True(borders.Min(b => b.SignedStandardUncertainty) < 0 && borders.Max(b => b.SignedStandardUncertainty) > 0);
        var sum = modes[0].Energy + modes[1].Energy + modes[2].Energy;
        Assert.All(sum.Components.Where(c => c.Source.Id.Contains("border", StringComparison.Ordinal)),
            c => Assert.Equal(0, c.SignedStandardUncertainty, 1e-12));
        Assert.Equal(MeterWh(log.Result.Energy), MeterWh(sum), 1e-6);
        Assert.True(sum.StandardUncertainty <= 1.01 * log.Result.Energy.StandardUncertainty);
    }

    // The mean of a charge is its energy by its length: at a border between 10 W and 0.3 W a second more adds 0.3 J and a second, so it
    // takes 9.7 J off what the mean would need.
    [Fact]
    public void A_border_moves_energy_and_length_of_a_charges_mean_together()
    {
        var log = Log(300, 3900, 5700, 10, SampleKind.AverageEnding, 0);
        var charge = log.Result.Modes[1];
        var end = charge.MeanPower.Value!.Components.Single(c => c.Source == BorderErrors.Source("drawn.csv", charge.Span.EndS));
        double mean = 3600 * charge.Energy.Value / charge.Span.DurationS;
        Assert.InRange(Math.Abs(end.SignedStandardUncertainty), 0.9 * (mean - FullW) * charge.Span.EndUncertaintyS / charge.Span.DurationS,
            1.01 * (mean - FullW) * charge.Span.EndUncertaintyS / charge.Span.DurationS);
    }

    // Means over a second, whose cells end at the border: a second later adds 0.3 J to the energy and takes (10 − 0.3) W · u / length off
    // the mean.
    [Fact]
    public void A_later_end_lowers_a_charges_mean()
    {
        var charge = Log(300, 3900, 5700, 1, SampleKind.AverageEnding, 0).Result.Modes[1];
        var end = charge.MeanPower.Value!.Components.Single(c => c.Source == BorderErrors.Source("drawn.csv", charge.Span.EndS));
        Assert.Equal(-(10 - FullW) * charge.Span.EndUncertaintyS / charge.Span.DurationS, end.SignedStandardUncertainty, 1e-6);
    }

    private static double MeterWh(Measured energy) =>
        Math.Sqrt(energy.Components.Where(c => c.Source.Id.StartsWith("meter:", StringComparison.Ordinal))
            .Sum(c => c.SignedStandardUncertainty * c.SignedStandardUncertainty));

    private static IReadOnlyList<ModeResult> Modes(double waitS, double chargedS, double endS, double intervalS, SampleKind kind,
        double phaseS) =>
        Log(waitS, chargedS, endS, intervalS, kind, phaseS).Result.Modes;

    private static MeasuredLog Log(double waitS, double chargedS, double endS, double intervalS, SampleKind kind, double phaseS) =>
        WrittenLog.Measure([(WaitingW, waitS), (10, chargedS), (FullW, endS)], intervalS, kind, phaseS);

    private static void HoldsOrSays(ModeResult mode, Mode expected, double trueW, bool needed)
    {
        Assert.Equal(expected, mode.Span.Mode);
        if (mode.MeanPower.Value is { } power)
        {
            Assert.Equal(trueW, power.Value, 1e-6);
            Assert.True(power.Interval() is { } i && i.Low < trueW && trueW < i.High);
        }
        else
        {
            Assert.False(needed, mode.MeanPower.WhyNot);
            Assert.NotEmpty(mode.MeanPower.WhyNot!);
        }
    }
}
