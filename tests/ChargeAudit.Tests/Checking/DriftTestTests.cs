using ChargeAudit.Checking;
using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Checking;

public sealed class DriftTestTests
{
    // Each loss is far within a margin of 2 %, and each baseline is the design before: no single check could fail.
    [Fact]
    public void Ten_small_losses_are_caught_though_the_baseline_moves_along()
    {
        var entries = Enumerable.Range(0, 10).Select(i => HistoryFileTests.Entry($"{i}", 13 * Math.Pow(1.004, i + 1), 13 * Math.Pow(1.004, i))).ToList();
        var last = Assert.Single(Findings(entries, 0.02));
        Assert.True(last.Alarm);
        Assert.True(last.BeyondMargin);
        Assert.Equal(Math.Pow(1.004, 10), last.SinceFirst, 1e-9);
        Assert.Equal(11, last.Checks);
        var early = Assert.Single(Findings(entries[..1], 0.02));
        Assert.False(early.Alarm);
    }

    [Fact]
    public void A_drift_within_the_margin_is_told_and_fails_nothing()
    {
        var entries = Enumerable.Range(0, 10).Select(i => HistoryFileTests.Entry($"{i}", 13 * Math.Pow(1.004, i + 1))).ToList();
        var finding = Assert.Single(Findings(entries, 0.05));
        Assert.Equal((true, false), (finding.Alarm, finding.BeyondMargin));
        Assert.Contains("still within the margin of 5 %", DriftTest.Sentence(finding), StringComparison.Ordinal);
    }

    [Fact]
    public void One_big_loss_is_caught_at_once_and_a_gain_is_none()
    {
        var level = Enumerable.Range(0, 5).Select(i => HistoryFileTests.Entry($"{i}", 13)).ToList();
        Assert.True(Findings([.. level, HistoryFileTests.Entry("x", 13.5)], 0.02)[0].Alarm);
        Assert.False(Findings([.. level, HistoryFileTests.Entry("x", 12.5)], 0.02)[0].Alarm);
    }

    [Fact]
    public void A_rejected_candidate_and_the_same_logs_again_do_not_count()
    {
        var good = HistoryFileTests.Entry("a", 13.01);
        var bad = HistoryFileTests.Entry("b", 13.6, verdict: CheckVerdict.Fail);
        var next = HistoryFileTests.Entry("c", 13.0);
        Assert.Equal(Findings([good, next], 0.02), Findings([good, bad, bad, good, next], 0.02));
    }

    [Fact]
    public void Another_device_or_meter_starts_a_chart_of_its_own()
    {
        var other = HistoryFileTests.Entry("a", 11);
        var device = other with { Device = "Q" };
        var meter = other with { Figures = [other.Figures[0] with { Meters = ["plug"] }] };
        var last = HistoryFileTests.Entry("c", 13.0);
        Assert.Equal(Findings([last], 0.02), Findings([device, meter, last], 0.02));
    }

    // The run length scatters about as an exponential, so the mean of n is good to 1/√n of itself; four of those are allowed.
    [Fact]
    public void Simulated_false_alarms_come_as_often_as_computed()
    {
        var random = new RandomSource(20_261).Named("drift");
        double sum = 0;
        int alarms = 0, checks = 0;
        double mean = 0, weight = 0;
        for (; alarms < 900; checks++)
        {
            double value = random.NextNormal();
            if (weight > 0)
            {
                sum = Math.Max(0, sum + ((value - mean) / Math.Sqrt(1 + (1 / weight))) - DriftTest.Allowance);
            }

            weight++;
            mean += (value - mean) / weight;
            if (sum > DriftTest.Limit)
            {
                alarms++;
                (sum, mean, weight) = (0, 0, 0);
            }
        }

        // Each series spends its first measurement on the level.
        double found = (checks - alarms) / (double)alarms, computed = CusumRunLength.Of(DriftTest.Allowance, DriftTest.Limit);
        Assert.InRange(found, computed * (1 - (4 / Math.Sqrt(alarms))), computed * (1 + (4 / Math.Sqrt(alarms))));
    }

    private static List<DriftFinding> Findings(IReadOnlyList<HistoryEntry> history, double margin) =>
        [.. DriftTest.Series(history, (_, _) => margin).Select(s => s.Finding)];
}
