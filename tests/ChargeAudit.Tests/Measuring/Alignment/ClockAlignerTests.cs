using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Alignment;

public sealed class ClockAlignerTests
{
    [Theory]
    [InlineData(137.4, 0)]
    [InlineData(-612.0, 40)]
    [InlineData(3.3, -120)]
    public void The_true_offset_and_drift_are_found(double offsetS, double driftPpm)
    {
        var found = ClockAligner.Find(Wall(0, 0, 1), Usb(offsetS, driftPpm, 1)).Alignment;
        Assert.NotNull(found);

        // Both logs are read once a second: within one sample over the whole log.
        foreach (double other in new[] { 0.0, 4500, 9000 - offsetS })
        {
            Assert.InRange(ToReferenceS(found, other) - (offsetS + (other * (1 + (driftPpm * 1e-6)))), -1, 1);
        }

        Assert.InRange(Math.Abs(found.DriftPpm!.Value - driftPpm), 0, 3 * found.DriftUncertaintyPpm!.Value);
        Assert.InRange(found.OffsetUncertaintyS, 0.01, 0.5);
        Assert.Equal(5000, found.ToOtherS(ToReferenceS(found, 5000)), 6);
    }

    // A clock 0.08 % fast in a log that starts 2500 s late: if the drift were counted from the reference's start, the other log's start
    // would be off by 2 s; from the middle, by 3 s.
    [Theory]
    [InlineData(2500, 800)]
    [InlineData(2500, -800)]
    [InlineData(-1500, 1500)]
    public void A_great_drift_counts_from_the_other_logs_first_sample(double offsetS, double driftPpm)
    {
        var found = ClockAligner.Find(Wall(0, 0, 1), Usb(offsetS, driftPpm, 1)).Alignment;
        Assert.NotNull(found);
        Assert.Equal(offsetS, found.OffsetS, 0.5);
        foreach (double other in new[] { 0.0, 2000, 5000 })
        {
            Assert.Equal(offsetS + (other * (1 + (driftPpm * 1e-6))), ToReferenceS(found, other), 0.5);
        }
    }

    [Fact]
    public void Logs_sampled_differently_are_aligned_within_a_sample_of_the_slower()
    {
        var found = ClockAligner.Find(Wall(0, 0, 10), Usb(250, 0, 1)).Alignment;
        Assert.NotNull(found);
        Assert.InRange(ToReferenceS(found, 4000) - 4250, -10, 10);
    }

    [Fact]
    public void A_train_of_equal_pulses_alone_is_refused()
    {
        static double Pulses(double t) => t % 40 < 20 ? 2 : 0.2;
        var finding = ClockAligner.Find(Log(6000, 1, Pulses, 1), Log(6000, 1, t => Pulses(t + 13), 2));
        Assert.Null(finding.Alignment);
        Assert.Contains("several offsets", finding.RefusedBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Short_pulses_alone_are_refused()
    {
        static double Pulses(double t) => t % 5 < 1 ? 2 : 0.2;
        Assert.Null(ClockAligner.Find(Log(6000, 1, Pulses, 1), Log(6000, 1, t => Pulses(t + 2), 2)).Alignment);
    }

    [Fact]
    public void Logs_without_common_steps_are_refused()
    {
        var random = new TruthRandom(77);
        var finding = ClockAligner.Find(Log(4000, 1, _ => 1 + (0.1 * random.Gauss()), 1), Log(4000, 1, _ => 1 + (0.1 * random.Gauss()), 2));
        Assert.Null(finding.Alignment);
        Assert.NotNull(finding.RefusedBecause);
    }

    [Fact]
    public void An_empty_log_is_refused() =>
        Assert.Null(ClockAligner.Find(new PowerEnvelope(0), Wall(0, 0, 1)).Alignment);

    /// <summary>A charge in which the device's own load comes and goes, at times that fall between readings.</summary>
    private static double Load(double t)
    {
        double own = t is > 600.3 and < 8000.7 && t % 431.37 < 187.61 ? 2.5 : 0;
        return own + (t < 600.3 ? 0 : t < 3000.8 ? 9 : t < 3400.2 ? 5 : t < 5200 ? 9.2 : t < 8000.7
            ? (8.7 * Math.Exp(-(t - 5200) / 1100)) + 0.5
            : 0.1);
    }

    private static PowerEnvelope Wall(double offsetS, double driftPpm, double intervalS) =>
        Log(9000, intervalS, t => 0.1 + (1.12 * Load((t * (1 + (driftPpm * 1e-6))) + offsetS)), 5);

    private static PowerEnvelope Usb(double offsetS, double driftPpm, double intervalS) =>
        Log(9000 - Math.Max(0, offsetS), intervalS, t => Load((t * (1 + (driftPpm * 1e-6))) + offsetS), 6);

    private static PowerEnvelope Log(double lengthS, double intervalS, Func<double, double> powerW, ulong seed)
    {
        var random = new TruthRandom(seed);
        var envelope = PowerEnvelope.ForInterval(intervalS);
        double last = 0;
        for (int i = 0; i * intervalS < lengthS; i++)
        {
            double p = powerW(i * intervalS) + (0.01 * random.Gauss());
            envelope.AddReading(i * intervalS, p);
            if (i > 0)
            {
                envelope.AddInterval(new PowerInterval((i - 1) * intervalS, i * intervalS, last, p));
            }

            last = p;
        }

        return envelope;
    }

    // As the alignment's own summary defines it: offset + (1 + drift) · other time.
    private static double ToReferenceS(ClockAlignment found, double otherS) =>
        found.OffsetS + ((1 + ((found.DriftPpm ?? 0) * 1e-6)) * otherS);
}
