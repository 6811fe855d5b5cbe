using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

public sealed class SimulatorTests
{
    [Fact]
    public void The_same_seed_gives_the_same_files_and_another_seed_others()
    {
        SimulationScenario scenario = SmallScenario.Short();
        var once = StudyWriter.Files(Simulator.Run(scenario, 9));
        Assert.Equal(once, StudyWriter.Files(Simulator.Run(scenario, 9)));
        var other = StudyWriter.Files(Simulator.Run(scenario, 10));
        Assert.NotEqual(once[0].Text, other[0].Text);
        Assert.Equal(once.Select(f => f.Name), other.Select(f => f.Name));
    }

    [Fact]
    public void Another_run_or_meter_does_not_move_the_others()
    {
        SimulationScenario scenario = SmallScenario.Short();
        SimulatedStudy both = Simulator.Run(scenario, 9);
        SimulatedStudy one = Simulator.Run(scenario with { Runs = [scenario.Runs[1]] }, 9);
        Assert.Equal(both.Runs[1].Logs[0].Text, one.Runs[0].Logs[0].Text);
        SimulatedStudy fewer =
            Simulator.Run(scenario with
            {
                Meters = [scenario.Meters[1]],
                Runs = [.. scenario.Runs.Select(r => r with { Meters = [scenario.Meters[1]] })]
            }, 9);
        Assert.Equal(both.Runs[0].Logs[1].Text, fewer.Runs[0].Logs[0].Text);
    }

    [Theory]
    [InlineData(1, 0.11, "it starts at 100 %")]
    [InlineData(0.9, 14, "the cell's 14 Ω")]
    public void A_run_that_would_charge_nothing_is_refused_with_what_to_do(double startShare, double cellOhm, string found)
    {
        InputException problem =
            Assert.Throws<InputException>(() =>
            Simulator.Run(SmallScenario.Short(startShare, d => d with { CellOhm = cellOhm, DrainWhenFullW = 0 }), 1));
        Assert.Equal(InputProblem.Unusable, problem.Problem);
        Assert.Contains(found, problem.Message, StringComparison.Ordinal);
        Assert.Contains("lower 'start-charge'", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pad_that_pulses_for_more_steps_than_memory_has_room_for_is_refused()
    {
        var scenario = SmallScenario.Short();
        var waiting = scenario.Runs.First(r => r.Method.Pad is not null) with { StartShare = null, NoLoadBeforeS = 6 * 86_400 };
        InputException problem = Assert.Throws<InputException>(() => Simulator.Run(scenario with { Runs = [], Waiting = [waiting] }, 1));
        Assert.Contains("shorten the run, or lengthen the pad's pulses", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Logs_of_more_rows_than_memory_has_room_for_are_refused_before_they_are_written()
    {
        var scenario = SmallScenario.Short();
        var fast = scenario.Meters[0] with { IntervalS = 1e-5 };
        InputException problem = Assert.Throws<InputException>(() =>
            Simulator.Run(scenario with { Meters = [fast], Runs = [scenario.Runs[0] with { Meters = [fast] }] }, 1));
        Assert.Equal(InputProblem.Unusable, problem.Problem);
        Assert.Contains("2000000 at most was expected; lengthen the meters' intervals", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cell_that_cannot_feed_what_the_full_battery_has_to_is_refused()
    {
        // 3.20 V behind 14 Ω: at most 3.20²/(4·14) = 0.183 W.
        string toml =
            SampleStudy.ScenarioText.Replace("cell-resistance = \"110 mohm\"", "cell-resistance = \"14 ohm\"", StringComparison.Ordinal);
        toml = System.Text.RegularExpressions.Regex.Replace(toml, "drain-when-full = \"[^\"]*\"", "drain-when-full = \"0.19 W\"");
        InputException problem = Assert.Throws<InputException>(() => SimulationScenario.Parse(toml));
        Assert.Contains("0.183 W at most", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_meter_seed_keeps_the_meters_while_everything_else_is_drawn_anew()
    {
        SimulationScenario scenario = SmallScenario.Short();
        SimulatedStudy first = Simulator.Run(scenario, 9), kept = Simulator.Run(scenario, 10, 9), other = Simulator.Run(scenario, 10);
        Assert.Equal(Errors(first), Errors(kept));
        Assert.NotEqual(Errors(first), Errors(other));
        Assert.NotEqual(first.Runs[0].Logs[0].Text, kept.Runs[0].Logs[0].Text);
        Assert.Equal(other.Runs[1].Trace.OffsetM, kept.Runs[1].Trace.OffsetM);
        Assert.Contains("\"meterSeed\": 9", TruthText.Write(kept), StringComparison.Ordinal);

        static string Errors(SimulatedStudy study) =>
            string.Join(";", study.MeterErrors.Select(e => string.Join(",", e.Errors.OrderBy(x => x.Key).Select(x => x.Value))));
    }
}
