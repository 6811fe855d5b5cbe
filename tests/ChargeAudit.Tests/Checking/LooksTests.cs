using ChargeAudit.Checking;
using ChargeAudit.Checking.Looks;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

/// <summary>A candidate looked at again after further runs.</summary>
public sealed class LooksTests
{
    private static readonly int[] Plan = [3, 6, 9, 12];

    // From four million candidates simulated apart from this program (R 4.2.2), each look at 0.05: means of 3, 6, 9 and 12 runs beside a
    // baseline that is known, or has five runs.
    [Theory]
    [InlineData(new[] { 3, 6, 9, 12 }, 1_000_000, 0.1171)]
    [InlineData(new[] { 3, 6, 9, 12 }, 5, 0.0950)]
    [InlineData(new[] { 3, 6 }, 5, 0.0734)]
    public void Looks_without_a_plan_make_errors_more_likely(int[] runs, int baselineRuns, double risk)
    {
        var report = LookReport.Unplanned(runs, baselineRuns, 0.05);
        Assert.Equal(risk, report.Risk, 1e-3);
        Assert.Contains(InvariantText.Of($"up to {100 * report.Risk:0.0} % instead of 5 %"), report.Sentence, StringComparison.Ordinal);
    }

    // At the margin itself a pass is wrong and so is a fail. 1000 candidates: four standard errors of 5 % are 2.8 %. With few runs the
    // scatter is estimated.
    [Theory]
    [InlineData(SpendingRule.OBrienFleming, 5)]
    [InlineData(SpendingRule.Pocock, 5)]
    [InlineData(SpendingRule.Pocock, 3)]
    public void A_plan_keeps_the_level_over_all_its_looks(SpendingRule rule, int baselineRuns)
    {
        var planned = Wrong(CheckCases.EnergyOnly(0.02) with { Looks = Plan, Spending = rule }, baselineRuns, 1000);
        Assert.InRange(planned.Pass, 0.02, 0.078);
        Assert.InRange(planned.Fail, 0.02, 0.078);
    }

    [Fact]
    public void Without_one_it_does_not() => Assert.InRange(Wrong(CheckCases.EnergyOnly(0.02), 5, 800).Pass, 0.075, 0.14);

    // With Pocock's spending and a baseline known by very many runs: shares of information ¼, ½, ¾, 1, of which 0.05·ln(1 + (e − 1)/4) =
    // 0.017869 is spent at the first look, and that is its level.
    [Fact]
    public void The_first_look_has_what_its_rule_spends()
    {
        var look = PlannedLook.At(CheckCases.EnergyOnly(0.02) with { Looks = Plan, Spending = SpendingRule.Pocock }, 0.05, 3, 100_000_000);
        Assert.Equal((1, 6), (look.Number, look.NextRuns));
        Assert.Equal(0.017869, look.Level, 1e-6);
        Assert.Equal(0.05, look.Adjusted(look.Level), 1e-12);
        Assert.True(look.Adjusted(look.Level * 1.001) > 0.05);
        Assert.Equal(1, look.Adjusted(0.7));
    }

    [Fact]
    public void Between_looks_nothing_is_decided_and_the_last_has_no_next()
    {
        var rules = CheckCases.EnergyOnly(0.02) with { Looks = Plan };
        var baseline = CheckCases.Design("base", Energies(5, 1));
        var between = Checker.Run(CheckCases.Design("new", Energies(4, 0.9)), baseline, rules);
        Assert.Equal((CheckVerdict.Inconclusive, 0), (between.Verdict, between.Looks!.Number));
        Assert.Contains("nothing is decided before 6", between.Reasons[^1], StringComparison.Ordinal);
        Assert.Equal(2, between.Figures[0].Settling!.FurtherCandidateRuns);
        var last = Checker.Run(CheckCases.Design("new", Energies(13, 1.0195)), baseline, rules);
        Assert.Equal(4, last.Looks!.Number);
        Assert.Contains("It is the last", last.Looks.Sentence, StringComparison.Ordinal);
        Assert.Null(last.Figures[0].Settling!.FurtherCandidateRuns);
        Assert.Equal(CheckVerdict.Pass, Checker.Run(CheckCases.Design("new", Energies(6, 1)), baseline, rules).Verdict);
    }

    [Fact]
    public void The_history_counts_the_looks()
    {
        var baseline = CheckCases.Design("base", Energies(5, 1));
        var results =
            Plan.Select(n => Checker.Run(CheckCases.Design("new", Energies(n, 1.0195)) with { Sha256 = $"new of {n}" }, baseline,
            CheckCases.EnergyOnly(0.02))).ToList();
        var history = results.Select(r => HistoryEntry.Of(r, DateTimeOffset.UnixEpoch)).ToList();
        var told = EarlierLooks.Told(history, results[^1]);
        Assert.Equal((4, (SpendingRule?)null), (told.Looks!.Number, told.Looks.Rule));
        Assert.Equal(Plan, told.Looks.Runs);
        Assert.Contains("This is look 4 at this candidate (3, 6, 9 and 12 runs)", told.Reasons[^1], StringComparison.Ordinal);
        var other = Checker.Run(CheckCases.Design("other", Energies(3, 1)), baseline, CheckCases.EnergyOnly(0.02));
        Assert.Equal(1, EarlierLooks.Told([.. history, HistoryEntry.Of(other, DateTimeOffset.UnixEpoch)], other).Looks!.Number);

        // A look that the plan does not have is pointed out.
        var planned = Checker.Run(CheckCases.Design("new", Energies(6, 1.0195)), baseline, CheckCases.EnergyOnly(0.02) with
        {
            Looks = [4, 6],
        });
        Assert.Contains("that this plan does not have",
            EarlierLooks.Told([history[0], HistoryEntry.Of(planned, DateTimeOffset.UnixEpoch)], planned).Reasons[^1],
            StringComparison.Ordinal);
    }

    private static double[] Energies(int runs, double ratio) =>
        [.. Enumerable.Range(0, runs).Select(i => 10 * ratio * (1 + (0.004 * ((i % 3) - 1))))];

    private static (double Pass, double Fail) Wrong(CheckRules rules, int baselineRuns, int candidates)
    {
        var random = new RandomSource(20_261).Named($"{rules.Spending}-{rules.Looks.Count}-{baselineRuns}");
        int passed = 0, failed = 0;
        for (int i = 0; i < candidates; i++)
        {
            var baseline = CheckCases.Design("base", Draw(baselineRuns, 10, random));
            double[] all = Draw(Plan[^1], 10.2, random);
            foreach (int runs in Plan)
            {
                var verdict = Checker.Run(CheckCases.Design("new", all[..runs]), baseline, rules).Verdict;
                if (verdict != CheckVerdict.Inconclusive)
                {
                    (passed, failed) = verdict == CheckVerdict.Pass ? (passed + 1, failed) : (passed, failed + 1);
                    break;
                }
            }
        }

        return ((double)passed / candidates, (double)failed / candidates);
    }

    private static double[] Draw(int runs, double energyWh, RandomSource random) =>
        [.. Enumerable.Range(0, runs).Select(_ => energyWh * (1 + (0.01 * random.NextNormal())))];
}
