using ChargeAudit.Checking;
using ChargeAudit.Checking.Drift;

namespace ChargeAudit.Tests.Checking;

public sealed class DriftTestTests
{
    // Each loss is far within a margin of 2 %, and each baseline is the design before: no single check could fail.
    [Fact]
    public void Ten_small_losses_are_caught_though_the_baseline_moves_along()
    {
        var entries = Enumerable.Range(0, 10)
            .Select(i => HistoryFileTests.Entry($"{i}", 13 * Math.Pow(1.004, i + 1), 13 * Math.Pow(1.004, i))).ToList();
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

    [Fact]
    public void False_alarms_of_a_whole_check_come_as_often_as_promised_from_the_first_check_on()
    {
        // One in 335 checks whatever came before: 1 − (1 − 1/335)³⁰ = 8.6 % within 30 checks, however many figures there are. Four standard
        // errors.
        double promised = 1 - Math.Pow(1 - (1 / 335.0), 30), error = Math.Sqrt(promised * (1 - promised) / 1500);
        Assert.InRange(new DriftSimulation(1, 30).FalseAlarms(30, 1500, 20_261), promised - (4 * error), promised + (4 * error));
        Assert.InRange(new DriftSimulation(8, 30).FalseAlarms(30, 1500, 20_262), promised - (4 * error), promised + (4 * error));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(5, 1)]
    [InlineData(20, 1)]
    [InlineData(0, 2)]
    [InlineData(10, 2)]
    public void The_table_of_what_is_found_is_what_a_simulation_gives_and_never_more_than_is_possible(int quiet, double step)
    {
        var stated = DriftPower.For(1).Rows.Single(r => r.QuietChecks == quiet && r.StepSigma == step && !r.AllMove);
        var found = new DriftSimulation(1, quiet + DriftPower.LongestWait).Detection(quiet, step, false, 400, 20_263);

        // Both are shares of simulated histories: 2000 and 400 of them.
        foreach (
            var (a, b) in new[] { (stated.Within5, found.Within5), (stated.Within10, found.Within10), (stated.Within20, found.Within20) })
        {
            Assert.InRange(b, a - 0.02 - (4 * Math.Sqrt(a * (1 - a) / 330)), a + 0.02 + (4 * Math.Sqrt(a * (1 - a) / 330)));
        }

        Assert.InRange(stated.Within20, 0.4 * DriftPower.Possible(quiet, step, 20), DriftPower.Possible(quiet, step, 20) + 0.03);
    }

    // One baseline and a known scatter: the mean of 20 checks less the baseline's has √(1 + 1/20), and 1 − (1 − 1/335)²⁰ = 5.8 % may be
    // false.
    [Fact]
    public void What_is_possible_at_all_right_after_a_baseline() => Assert.Equal(0.276, DriftPower.Possible(0, 1, 20), 0.002);

    [Fact]
    public void A_figure_that_moves_with_the_wired_reference_is_the_meter()
    {
        var alone = Moved(cable: null, pad: 1.03);
        Assert.Equal((true, DriftCause.NotKnown), (alone.Alarm, alone.Cause));
        Assert.Contains("cannot be told", DriftTest.Sentence(alone), StringComparison.Ordinal);
        var meter = Moved(cable: 1.03, pad: 1.03);
        Assert.Equal((true, DriftCause.Meter, false), (meter.Alarm, meter.Cause, meter.BeyondMargin));
        Assert.Contains("The reference by cable (cable) on the same meter moved with it",
            DriftTest.Sentence(meter), StringComparison.Ordinal);
        var design = Moved(cable: 1, pad: 1.03);
        Assert.Equal((true, DriftCause.Design, true), (design.Alarm, design.Cause, design.BeyondMargin));
        var both = Moved(cable: 1.01, pad: 1.04);
        Assert.Equal((DriftCause.Design, true), (both.Cause, both.BeyondMargin));
        Assert.Contains("by less", both.CauseReason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_candidate_looked_at_again_is_one_measurement()
    {
        var first = HistoryFileTests.Entry("a", 13.01) with { Logs = ["1", "2", "3"] };
        var again = HistoryFileTests.Entry("b", 13.02) with { Logs = ["1", "2", "3", "4", "5", "6"] };
        Assert.Equal(Findings([again], 0.02), Findings([first, again], 0.02));
    }

    // Six checks of a pad and its cable, the last three moved by a factor; one meter.
    private static DriftFinding Moved(double? cable, double pad)
    {
        var entries = Enumerable.Range(0, 6).Select(i =>
        {
            double by = i < 3 ? 1 : pad, reference = i < 3 ? 1 : cable ?? 1;
            var entry = HistoryFileTests.Entry($"{i}", 13 * by) with
            {
                Time = new DateTimeOffset(2031, 3, 1 + i, 9, 0, 0, TimeSpan.Zero),
                WiredReference = cable is null ? null : "cable",
            };
            return cable is null ? entry : entry with
            {
                Figures = [.. entry.Figures, entry.Figures[0] with { Method = "cable", Candidate = 10 * reference, Baseline = 10 }],
            };
        }).ToList();
        return Findings(entries, 0.02).Single(f => f.Method == "pad");
    }

    private static List<DriftFinding> Findings(IReadOnlyList<HistoryEntry> history, double margin) =>
        [.. DriftTest.Series(history, (_, _) => margin).Select(s => s.Finding)];
}
