using ChargeAudit.Checking.Planning;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Json;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Checking.Planning;

public sealed class TestPlannerTests
{
    private static readonly PulseTrain Pulses = new(0.4, 0.07, 0.53);
    private static readonly RunsAim Aim = new(PlanAim.KeepMargin, 0.02);

    [Fact]
    public void The_scatter_of_an_audit_gives_a_bold_and_a_cautious_number()
    {
        var seen = SeenRepeatability.Of(CheckCases.Design("base", [10.0, 10.1, 9.9, 10.05]));
        var one = Assert.Single(seen);
        Assert.Equal(4, one.Runs);
        var plan = TestPlanner.Make(new PlanRequest { Aim = Aim, Seen = seen });
        Assert.Equal(2, plan.Runs.Count);
        Assert.True(plan.Runs[1].Repeatability > plan.Runs[0].Repeatability);
        Assert.True(plan.Runs[1].SameMeter > plan.Runs[0].SameMeter);
        Assert.Empty(SeenRepeatability.Of(CheckCases.Design("base", [10.0])));
    }

    [Fact]
    public void Two_meters_need_more_runs_and_the_advice_says_so()
    {
        var plan = TestPlanner.Make(new PlanRequest
        {
            Aim = Aim,
            Repeatability = 0.01,
            Accuracy = Accuracy("0.8 % + 10 mW"),
            ChargePowerW = 8,
        });
        Assert.True(plan.Runs[0].TwoMeters > plan.Runs[0].SameMeter);
        Assert.Contains(plan.Advice, a => a.Contains("one and the same meter", StringComparison.Ordinal));
        Assert.Empty(ResultsSchema.Problems(PlanJson.Of(plan)));
    }

    [Fact]
    public void Coarse_steps_and_slow_readings_are_told()
    {
        var plan = TestPlanner.Make(new PlanRequest
        {
            Aim = Aim,
            Repeatability = 0.005,
            StepW = 0.5,
            ChargePowerW = 8,
            ChargeDurationS = 3600,
            IntervalS = 60,
        });
        Assert.Null(plan.Runs[0].SameMeter);
        Assert.Contains(plan.Advice, a => a.Contains("too coarse", StringComparison.Ordinal));
        Assert.Contains(plan.Advice, a => a.Contains("read more often", StringComparison.Ordinal));
        Assert.Empty(ResultsSchema.Problems(PlanJson.Of(plan)));
    }

    [Fact]
    public void What_is_missing_is_asked_for()
    {
        Missing(new PlanRequest { Aim = Aim }, Remedy.Repeatability);
        Missing(new PlanRequest { Aim = Aim, Repeatability = 0.01, Accuracy = Accuracy("1 %") }, Remedy.ChargePower);
        Missing(new PlanRequest { Aim = Aim, Repeatability = 0.01, Accuracy = Accuracy("1 % + 3 digits"), ChargePowerW = 8 }, Remedy.Step);
    }

    [Fact]
    public void A_meter_that_is_too_coarse_for_stand_by_carries_nothing()
    {
        var poor = StandbyPlan.Of(0.15, 0.05, Accuracy("1 % + 10 mW"), 0.1, SampleKind.AverageEnding, 1, null);
        Assert.False(poor.Carries);
        Assert.Equal((0.0015 + 0.01) / 0.15, poor.MeterShare!.Value, 1e-12);
        Assert.Contains(poor.Advice, a => a.Contains("step", StringComparison.Ordinal));
        Assert.True(StandbyPlan.Of(0.15, 0.05, Accuracy("1 % + 2 mW"), 0.001, SampleKind.AverageEnding, 1, null).Carries);
    }

    [Fact]
    public void Readings_that_keep_step_with_the_pulses_never_do()
    {
        var plan = StandbyPlan.Of(0.2, 0.05, null, 0, SampleKind.Instantaneous, 2 * Pulses.PeriodS, Pulses);
        Assert.Equal((double.PositiveInfinity, false), (plan.LengthS, plan.Carries));
        Assert.Contains(plan.Advice, a => a.Contains("keep step", StringComparison.Ordinal));
        Assert.True(StandbyPlan.Of(0.2, 0.05, null, 0, SampleKind.AverageEnding, 2 * Pulses.PeriodS, Pulses).Carries);
        Assert.Empty(ResultsSchema.Problems(PlanJson.Of(TestPlanner.Make(new PlanRequest
        {
            Aim = Aim,
            Repeatability = 0.01,
            StandbyPowerW = 0.2,
            Pulses = Pulses,
            IntervalS = 2 * Pulses.PeriodS,
        }))));
    }

    // Readings at random moments, as far apart as the plan assumes: the mean must lie within the wanted 5 % in 95 % of the logs (three
    // standard errors allowed).
    [Fact]
    public void A_log_as_long_as_planned_gives_the_wanted_accuracy()
    {
        const double wanted = 0.02, between = 0.15;
        double mean = between + (Pulses.PowerW * Pulses.LengthS / Pulses.PeriodS);
        var plan = StandbyPlan.Of(mean, wanted, null, 0, SampleKind.Instantaneous, 1, Pulses);
        Assert.True(plan.LengthS > StandbyPlan.LeastLengthS);
        var random = new RandomSource(3).Named("readings");
        const int logs = 400;
        int within = 0;
        for (int i = 0; i < logs; i++)
        {
            double sum = 0;
            for (int n = 0; n < (int)plan.LengthS; n++)
            {
                sum += between + (random.NextUnit() * Pulses.PeriodS < Pulses.LengthS ? Pulses.PowerW : 0);
            }

            within += Math.Abs((sum / (int)plan.LengthS) - mean) <= wanted * mean ? 1 : 0;
        }

        Assert.InRange((double)within / logs, 0.95 - 0.033, 0.95 + 0.033);
    }

    private static MeterAccuracy Accuracy(string text)
    {
        Assert.True(MeterAccuracy.TryParse(text, LogQuantity.Power, out var accuracy, out _));
        return accuracy;
    }

    private static void Missing(PlanRequest request, Remedy remedy)
    {
        var e = Assert.Throws<InputException>(() => TestPlanner.Make(request));
        Assert.Equal(InputProblem.Usage, e.Problem);
        Assert.Equal(remedy, e.Remedy);
    }
}
