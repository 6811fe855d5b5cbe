using ChargeAudit.Analysis.Alignment;
using ChargeAudit.Analysis.Integration;
using ChargeAudit.Tests.Analysis.Segmentation.Truth;

namespace ChargeAudit.Tests.Analysis.Alignment;

public sealed class ClockAlignerTests
{
    [Theory]
    [InlineData(137.4, 0)]
    [InlineData(-612.0, 40)]
    [InlineData(3.3, -120)]
    public void The_true_offset_and_drift_are_found(double offsetS, double driftPpm)
    {
        var found = ClockAligner.Find(Wall(0, 0, 1), Usb(offsetS, driftPpm, 1), AlignmentOptions.Default).Alignment;
        Assert.NotNull(found);
        Assert.InRange(found.ToReferenceS(0) - offsetS, -0.5, 0.5);
        double atEnd = 9000 - offsetS;
        Assert.InRange(found.ToReferenceS(atEnd) - (offsetS + (atEnd * (1 + (driftPpm * 1e-6)))), -0.6, 0.6);
        Assert.InRange(Math.Abs(found.DriftPpm!.Value - driftPpm), 0, 3 * found.DriftUncertaintyPpm!.Value);
        Assert.InRange(found.OffsetUncertaintyS, 0.01, 0.5);
        Assert.Equal(5000, found.ToOtherS(found.ToReferenceS(5000)), 6);
    }

    [Fact]
    public void Logs_sampled_differently_are_aligned_within_a_sample_of_the_slower()
    {
        var found = ClockAligner.Find(Wall(0, 0, 10), Usb(250, 0, 1), AlignmentOptions.Default).Alignment;
        Assert.NotNull(found);
        Assert.InRange(found.ToReferenceS(4000) - 4250, -10, 10);
    }

    [Fact]
    public void A_train_of_equal_pulses_alone_is_refused()
    {
        static double Pulses(double t) => t % 40 < 20 ? 2 : 0.2;
        var finding = ClockAligner.Find(Log(6000, 1, Pulses, 1), Log(6000, 1, t => Pulses(t + 13), 2), AlignmentOptions.Default);
        Assert.Null(finding.Alignment);
        Assert.Contains("several offsets", finding.RefusedBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Short_pulses_alone_are_refused()
    {
        static double Pulses(double t) => t % 5 < 1 ? 2 : 0.2;
        Assert.Null(ClockAligner.Find(Log(6000, 1, Pulses, 1), Log(6000, 1, t => Pulses(t + 2), 2), AlignmentOptions.Default).Alignment);
    }

    [Fact]
    public void Logs_without_common_steps_are_refused()
    {
        var random = new TruthRandom(77);
        var finding = ClockAligner.Find(Log(4000, 1, _ => 1 + (0.1 * random.Gauss()), 1), Log(4000, 1, _ => 1 + (0.1 * random.Gauss()), 2), AlignmentOptions.Default);
        Assert.Null(finding.Alignment);
        Assert.NotNull(finding.RefusedBecause);
    }

    [Fact]
    public void An_empty_log_is_refused() =>
        Assert.Null(ClockAligner.Find(new PowerEnvelope(0), Wall(0, 0, 1), AlignmentOptions.Default).Alignment);

    private static double Load(double t) =>
        t < 600 ? 0 : t < 3000 ? 9 + (t % 900 < 200 ? 0.8 : 0) : t < 3400 ? 5 : t < 5200 ? 9.2 : t < 8000 ? (8.7 * Math.Exp(-(t - 5200) / 1100)) + 0.5 : 0.1;

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
}
