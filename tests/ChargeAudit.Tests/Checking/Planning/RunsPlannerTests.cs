using ChargeAudit.Checking.Planning;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Checking.Planning;

public sealed class RunsPlannerTests
{
    private const int Trials = 1500;

    [Theory]
    [InlineData(2, 0.005)]
    [InlineData(3, 0.005)]
    [InlineData(5, 0.01)]
    [InlineData(8, 0.015)]
    [InlineData(12, 0.02)]
    public void Simulated_checks_pass_as_often_as_computed(int runs, double scatter)
    {
        double computed = RunsPlanner.PowerOf(new RunsAim(PlanAim.KeepMargin, 0.02), scatter, 0, runs);
        double found = OperatingCharacteristics.Simulate(new PairsOfDesigns(1, runs, scatter, 0.02), Trials, 7).Pass;
        Assert.InRange(found, computed - Allowed(computed), computed + Allowed(computed));
    }

    [Theory]
    [InlineData(4, 0.01, 0.03)]
    [InlineData(6, 0.02, 0.03)]
    public void Simulated_differences_are_found_as_often_as_computed(int runs, double scatter, double share)
    {
        double computed = RunsPlanner.PowerOf(new RunsAim(PlanAim.TellApart, share), scatter, 0, runs);
        var random = new RandomSource(11).Named($"{runs}");
        int found = 0;
        for (int i = 0; i < Trials; i++)
        {
            var test = RatioTest.Against(Draw(1 + share, scatter, runs, random), Draw(1, scatter, runs, random), 1);
            found += Math.Min(test.PAbove, test.PBelow) < 0.025 ? 1 : 0;
        }

        Assert.InRange((double)found / Trials, computed - Allowed(computed), computed + Allowed(computed));
    }

    // The usual table for two means, power 0.8, level 0.05, two-sided: 17 in each group for a difference of one standard deviation and 64
    // for half of one (from memory; common practice, no source). A ratio close to 1 needs the same.
    [Theory]
    [InlineData(1e-4, 17)]
    [InlineData(2e-4, 64)]
    public void A_small_difference_needs_the_runs_of_the_test_of_two_means(double scatter, int runs) =>
        Assert.Equal(runs, RunsPlanner.Needed(new RunsAim(PlanAim.TellApart, 1e-4), scatter, 0));

    [Fact]
    public void More_runs_more_power_and_the_fewest_are_found()
    {
        var aim = new RunsAim(PlanAim.KeepMargin, 0.02, 0.9);
        int needed = RunsPlanner.Needed(aim, 0.015, 0.002)!.Value;
        Assert.True(RunsPlanner.PowerOf(aim, 0.015, 0.002, needed) >= 0.9);
        Assert.True(RunsPlanner.PowerOf(aim, 0.015, 0.002, needed - 1) < 0.9);
    }

    [Fact]
    public void No_number_of_runs_beats_a_meter_that_is_too_uncertain() =>
        Assert.Null(RunsPlanner.Needed(new RunsAim(PlanAim.KeepMargin, 0.02), 0.001, 0.02));

    // Chi-squared with 4 degrees of freedom lies below 1.649 with a probability of 20 % (tables printed in handbooks of
    // statistics).
    [Fact]
    public void A_scatter_seen_in_five_runs_may_be_half_as_large_again() =>
        Assert.Equal(Math.Sqrt(4 / 1.649), RunsPlanner.UpperScatter(1, 4, 0.8), 5e-4);

    [Fact]
    public void The_gain_of_one_meter_cancels_and_that_of_two_does_not()
    {
        Assert.True(MeterAccuracy.TryParse("0.5 % + 10 mW", LogQuantity.Power, out var accuracy, out _));
        var plan = MeterPlan.Of(accuracy, 0, 8, 0.02);
        Assert.Equal(0.02 * 0.01 / 8 / Math.Sqrt(3), plan.SameMeter, 1e-12);
        Assert.Equal(Math.Sqrt(2 * ((0.005 * 0.005) + (0.01 / 8 * 0.01 / 8)) / 3), plan.TwoMeters, 1e-12);
        Assert.Equal(plan.SameMeter, MeterPlan.Of(accuracy, 0.01, 8, 0.02).SameMeter, 1e-15);
        Assert.Equal(Math.Sqrt(2) * 0.1 / 8 / Math.Sqrt(3), MeterPlan.Of(null, 0.1, 8, 0.02).SameMeter, 1e-12);
    }

    private static SampleStatistics Draw(double mean, double scatter, int runs, RandomSource random) =>
        SampleStatistics.Of(Enumerable.Range(0, runs).Select(_ => mean * (1 + (scatter * random.NextNormal()))).ToArray());

    private static double Allowed(double share) => (3 * Math.Sqrt(share * (1 - share) / Trials)) + 0.002;
}
