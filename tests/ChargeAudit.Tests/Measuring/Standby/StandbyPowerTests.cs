using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Standby;

public sealed class StandbyPowerTests
{
    [Fact]
    public void A_pulsed_load_is_averaged_whatever_the_phase_of_its_pulses()
    {
        var random = new TruthRandom(3);
        var samples = Samples(0.25, 4000, t => 0.1 + (t % 9 < 1.5 ? 2 : 0) + (0.002 * random.Gauss()));
        var finding = StandbyPower.BySampling(samples, InfluenceSource.OfLog("pad", SourceKind.Noise, "scatter"));
        double mean = 0.1 + (2 * 1.5 / 9);
        Assert.InRange(finding.Power.Value, mean - (3 * finding.Power.StandardUncertainty!.Value), mean
            + (3 * finding.Power.StandardUncertainty!.Value));
        Assert.InRange(finding.PeriodS!.Value, 8.9, 9.1);
        Assert.Equal(PulseCoverage.SeveralReadingsAPulse, finding.Pulses);
        Assert.Equal(Stability.Stable, finding.Stability);
    }

    [Fact]
    public void Slow_cycles_are_averaged_over_whole_cycles()
    {
        // A cycle of 700 s in 50 min: whatever is kept of the readings holds a part of a cycle, and a line through it has a slope.
        var samples = Samples(1, 3500, t => 0.5 + (t % 700 < 350 ? 0.4 : 0));
        var finding = StandbyPower.BySampling(samples, new("s"));
        Assert.Equal(StandbyMethod.SamplingOverCycles, finding.Method);
        Assert.Equal(0.7, finding.Power.Value, 2);
        Assert.Equal(Stability.Stable, finding.Stability);
        Assert.InRange(finding.PeriodS!.Value, 690, 710);
    }

    [Fact]
    public void Short_pulses_in_slow_instantaneous_readings_are_not_carried_and_said_so()
    {
        var random = new TruthRandom(8);
        var samples = Samples(5, 4000, t => 0.1 + (random.Unit() < 0.08 ? 2 : 0));
        var finding = StandbyPower.BySampling(samples, new("s"));
        Assert.Equal(PulseCoverage.NotCarried, finding.Pulses);
        Assert.Contains(finding.Notes, n => n.Contains("energy counter", StringComparison.Ordinal));
        Assert.StartsWith("similar to", finding.Wording, StringComparison.Ordinal);
    }

    [Fact]
    public void An_averaging_meter_carries_the_same_pulses()
    {
        var random = new TruthRandom(8);
        var samples = Samples(5, 4000, t => 0.1 + (random.Unit() < 0.08 ? 2 : 0)) with { Kind = SampleKind.AverageEnding };
        Assert.Equal(PulseCoverage.MeterAverages, StandbyPower.BySampling(samples, new("s")).Pulses);
    }

    [Fact]
    public void Wall_readings_each_second_bear_the_plain_name_and_dc_readings_do_not()
    {
        var wall = StandbyPower.BySampling(Samples(1, 1000, _ => 0.3), new("s"));
        Assert.Equal("the sampling method of IEC 62301", wall.Wording);
        Assert.Contains(wall.Notes, n => n.StartsWith("Maximum current ratio: not shown", StringComparison.Ordinal));
        var usb = StandbyPower.BySampling(Samples(1, 1000, _ => 0.3) with { Point = MeasuringPoint.Usb }, new("s"));
        Assert.StartsWith("similar to", usb.Wording, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_shorter_than_a_quarter_of_an_hour_shows_no_stability()
    {
        Assert.Equal(Stability.NotShown, StandbyPower.BySampling(Samples(1, 600, _ => 0.3), new("s")).Stability);
    }

    [Fact]
    public void The_uncertainty_of_the_mean_holds_when_neighbours_are_alike()
    {
        int within = 0;
        for (ulong seed = 0; seed < 60; seed++)
        {
            var random = new TruthRandom(100 + seed);
            double state = 0;
            var samples = Samples(1, 3000, _ => 0.4 + (state = (0.9 * state) + (0.01 * random.Gauss())));
            var power = StandbyPower.BySampling(samples, new("s")).Power;
            within += Math.Abs(power.Value - 0.4) <= 2 * power.StandardUncertainty!.Value ? 1 : 0;
        }

        // 95 % of 60 is 57; if the correlation of neighbouring readings were ignored, about half would lie within.
        Assert.InRange(within, 49, 60);
    }

    [Fact]
    public void A_counter_gives_the_power_and_a_coarse_counter_no_stability()
    {
        var time = Enumerable.Range(0, 121).Select(i => i * 60.0).ToList();
        var fine = time.Select(t => Math.Floor(0.25 * t / 0.36) * 0.36).ToList();
        var finding = StandbyPower.ByAccumulatedEnergy(time, fine, 0.36, MeasuringPoint.Wall, new("s"));
        Assert.Equal(0.25, finding.Power.Value, 3);
        Assert.Equal(Stability.Stable, finding.Stability);
        Assert.Equal("the accumulated-energy method of IEC 62301", finding.Wording);
        var coarse = time.Select(t => Math.Floor(0.25 * t / 360) * 360).ToList();
        Assert.Equal(Stability.NotShown, StandbyPower.ByAccumulatedEnergy(time, coarse, 360, MeasuringPoint.Wall, new("s")).Stability);
    }

    [Fact]
    public void Maintenance_is_the_mean_of_its_last_four_hours_over_whole_top_ups()
    {
        var envelope = Envelope(20000, t => t < 3000 ? 3 : t % 1500 < 100 ? 2 : 0.4);
        var finding = StandbyPower.OfLastFourHours(envelope, new ModeSpan(Mode.Maintenance, 3000, 20000, 0, 0), SampleKind.Instantaneous,
            MeasuringPoint.Wall, new("s"));
        Assert.Equal(0.4 + (1.6 * 100 / 1500), finding.Power.Value, 2);
        Assert.InRange(finding.PeriodS!.Value, 1490, 1510);
        Assert.True(finding.ToS - finding.FromS >= 4 * 3600);
    }

    [Fact]
    public void Less_than_four_hours_is_said()
    {
        var envelope = Envelope(7200, _ => 0.4);
        var finding = StandbyPower.OfLastFourHours(envelope, new ModeSpan(Mode.Maintenance, 0, 7200, 0, 0), SampleKind.Instantaneous,
            MeasuringPoint.Wall, new("s"));
        Assert.Equal(Stability.NotShown, finding.Stability);
        Assert.Contains(finding.Notes, n => n.Contains("2.0 h only", StringComparison.Ordinal));
    }

    private static StandbySamples Samples(double intervalS, double lengthS, Func<double, double> powerW) =>
        new(intervalS, [.. Enumerable.Range(0, (int)(lengthS / intervalS)).Select(i => powerW(i * intervalS))], SampleKind.Instantaneous,
            MeasuringPoint.Wall);

    private static PowerEnvelope Envelope(int lengthS, Func<double, double> powerW)
    {
        var envelope = PowerEnvelope.ForInterval(1);
        for (int i = 0; i < lengthS; i++)
        {
            envelope.AddReading(i, powerW(i));
            envelope.AddInterval(new PowerInterval(i, i + 1, powerW(i), powerW(i + 1)));
        }

        return envelope;
    }
}
