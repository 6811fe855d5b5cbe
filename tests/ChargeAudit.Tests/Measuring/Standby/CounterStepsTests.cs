using ChargeAudit.Logs;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Standby;

/// <summary>Power by the times at which a counter steps.</summary>
public sealed class CounterStepsTests
{
    private const double StepJ = 3.6;

    [Theory]
    [InlineData(0.0481, 2)]
    [InlineData(0.3033, 2)]
    [InlineData(0.3033, 4)]
    public void Steps_seldomer_than_the_readings_tell_the_power_within_its_uncertainty(double powerW, double intervalS)
    {
        int within = 0;
        var random = new TruthRandom(11);
        const int Times = 400;
        for (int i = 0; i < Times; i++)
        {
            // The counter's start within its step is anybody's guess.
            double start = random.Between(0, StepJ);
            var (time, energy) = Counted(2700, intervalS, t => start + (powerW * t));
            var steps = CounterSteps.Of(time, energy, 0, time.Length - 1, StepJ)!.Value;
            Assert.True(steps.StandardUncertaintyW < StepJ / Math.Sqrt(6) / 2700, "the ends alone would be surer");
            within += Math.Abs(steps.PowerW - powerW) <= 1.96 * steps.StandardUncertaintyW ? 1 : 0;
        }

        Assert.InRange(within, 0.92 * Times, Times);
    }

    [Fact]
    public void A_display_that_is_refreshed_seldom_makes_the_figure_less_sure_not_wrong()
    {
        // The counter shows what it held at the last full minute; its steps of 75 s come 60 or 120 s apart.
        var (time, energy) = Counted(2700, 2, t => 0.0481 * 60 * Math.Floor(t / 60));
        var steps = CounterSteps.Of(time, energy, 0, time.Length - 1, StepJ)!.Value;
        Assert.True(steps.StandardUncertaintyW > 4 * 0.0481 * 2 / Math.Sqrt(6) / 2700);
        Assert.InRange(steps.PowerW, 0.0481 - (2 * steps.StandardUncertaintyW), 0.0481 + (2 * steps.StandardUncertaintyW));
    }

    [Fact]
    public void Three_steps_are_too_few()
    {
        var (time, energy) = Counted(260, 2, t => 0.0481 * t);
        Assert.Null(CounterSteps.Of(time, energy, 0, time.Length - 1, StepJ));
    }

    [Fact]
    public void The_surer_of_the_steps_and_the_ends_is_taken()
    {
        // With rows every 10 s, a load of 20 W steps many times between two readings: the times of the steps say nothing more.
        var (time, energy) = Counted(7200, 10, t => 20 * t);
        var fast = StandbyPower.ByAccumulatedEnergy(time, energy, StepJ, MeasuringPoint.Wall, new("s"));
        Assert.Equal((1800, 7200), (fast.FromS, fast.ToS));
        (time, energy) = Counted(7200, 10, t => 0.0481 * t);
        var slow = StandbyPower.ByAccumulatedEnergy(time, energy, StepJ, MeasuringPoint.Wall, new("s"));
        Assert.InRange(slow.FromS, 1801, 1900);
        Assert.Equal(0.0481, slow.Power.Value, 0.0002);
    }

    [Theory]
    [InlineData(0, Stability.Stable)]
    [InlineData(0.004, Stability.Stable)]
    [InlineData(0.025, Stability.Drifting)]
    [InlineData(-0.025, Stability.Drifting)]
    public void The_steps_show_a_coarse_counter_stable_or_drifting(double driftWPerH, Stability expected)
    {
        // 60 min, of which 30 count: two ends a step of 1 mWh apart in 15 min leave 4·1 mW/(0.25 h), the steps of some 75 s a tenth of the
        // limit.
        var (time, energy) = Counted(3600, 2, t => (0.0481 * t) + (0.5 * driftWPerH * t * t / 3600));
        var finding = StandbyPower.ByAccumulatedEnergy(time, energy, StepJ, MeasuringPoint.Wall, new("s"));
        Assert.Equal(expected, finding.Stability);
        Assert.Equal(driftWPerH, finding.DriftWPerH, 0.002);
        Assert.DoesNotContain(finding.Notes, n => n.Contains("too coarse", StringComparison.Ordinal));
    }

    [Fact]
    public void A_counter_with_two_steps_a_period_does_not_show_stability()
    {
        var (time, energy) = Counted(3600, 2, t => 0.008 * t);
        Assert.Equal(Stability.NotShown, StandbyPower.ByAccumulatedEnergy(time, energy, StepJ, MeasuringPoint.Wall, new("s")).Stability);
    }

    private static (double[] TimeS, double[] EnergyJ) Counted(double lengthS, double intervalS, Func<double, double> energyJ)
    {
        double[] time = [.. Enumerable.Range(0, (int)(lengthS / intervalS) + 1).Select(i => i * intervalS)];
        return (time, [.. time.Select(t => Math.Floor(energyJ(t) / StepJ) * StepJ)]);
    }
}
