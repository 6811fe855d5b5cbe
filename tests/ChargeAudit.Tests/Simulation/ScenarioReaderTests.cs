using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

public sealed class ScenarioReaderTests
{
    [Fact]
    public void Values_arrive_in_coherent_units()
    {
        SimulationScenario scenario = SampleStudy.Scenario;
        Assert.Equal(0.11, scenario.Device.CellOhm);
        Assert.Equal(18 * 60, scenario.Device.ThermalTimeS);
        PadModel pad = scenario.Methods[1].Pad!;
        Assert.Equal(21e-6, pad.Primary.InductanceH);
        Assert.Equal(0.0045, pad.GapM);
        Assert.Equal(0.07, pad.PulseLengthS);
        Assert.Equal(0.05, scenario.Runs[0].StartShare);
        Assert.Equal(4e-6, scenario.Meters[0].ClockDrift);
        MeterColumn voltage = scenario.Meters[0].Columns[0];
        Assert.Equal((0.0005, 0.002), (voltage.GainHalfWidth, voltage.OffsetHalfWidth));
        Assert.Equal(["cable-1", "cable-2", "cable-3", "pad-1", "pad-2", "pad-3"], scenario.Runs.Select(r => r.Id));
        Assert.Equal(62 * 60, scenario.Runs[4].Mishaps[0].GapFromS);
    }

    [Fact]
    public void Repeat_makes_runs_of_the_same_plan_on_following_days()
    {
        string toml = SampleStudy.ScenarioText.Replace("background-spread = \"12 %\"\n\n[[runs]]",
            "background-spread = \"12 %\"\nrepeat = 2\n\n[[runs]]", StringComparison.Ordinal);
        SimulationScenario scenario = SimulationScenario.Parse(toml);
        Assert.True(scenario.Runs.Count > 6);
        Assert.Equal(scenario.Runs.Count, scenario.Runs.Select(r => r.Id).Distinct().Count());
        Assert.Equal(scenario.Runs[0].Start.AddDays(1), scenario.Runs[1].Start);
    }

    [Fact]
    public void Positions_make_a_run_each_once_through_before_any_is_repeated_and_the_study_tells_them()
    {
        string toml = SampleStudy.ScenarioText.Replace("offset = \"2.5 mm\"\noffset-spread = \"1.5 mm\"",
            "positions-mm = [[0, 0], [4, -2.5]]\ngap = \"6 mm\"\nrepeat = 2", StringComparison.Ordinal);
        SimulationScenario scenario = SimulationScenario.Parse(toml);
        Assert.Equal(3 + (3 * 4), scenario.Runs.Count);
        Assert.Equal(scenario.Runs.Count, scenario.Runs.Select(r => r.Id).Distinct().Count());
        Assert.Equal([0, 0.004, 0, 0.004], scenario.Runs.Skip(3).Take(4).Select(r => r.Place!.XM));
        Assert.All(scenario.Runs.Skip(3), r => Assert.Equal(0.006, r.Place!.GapM));
        Assert.All(scenario.Runs.Take(3), r => Assert.Null(r.Place));

        SimulatedStudy study = Simulator.Run(scenario with { Runs = [scenario.Runs[4] with { StartShare = 0.95 }], Waiting = [] }, 1);
        Assert.Equal(Math.Sqrt((4 * 4) + (2.5 * 2.5)) / 1000, study.Runs[0].Trace.OffsetM, 1e-12);
        Assert.Contains("factors = { offset-x = \"4 mm\", offset-y = \"-2.5 mm\", gap = \"6 mm\" }",
            ChargeAudit.Simulation.Output.StudyText.Write(study), StringComparison.Ordinal);
        Assert.Equal(scenario.Methods[1].Pad!.Coupling(study.Runs[0].Trace.OffsetM, 0.006), study.Runs[0].Trace.Coupling);
    }

    [Theory]
    [InlineData("offset = \"2.5 mm\"", "positions-mm = [[0, 0]]\noffset = \"2.5 mm\"", "in [runs[4]]", "say the same; keep one")]
    [InlineData("offset = \"2.5 mm\"", "positions-mm = []", "in [runs[4]]", "the list is empty")]
    [InlineData("offset = \"2.5 mm\"", "gap = \"3 mm\"", "in [runs[4]]", "'gap' needs 'positions-mm'")]
    [InlineData("method = \"cable\"\nstart-charge = 5", "method = \"cable\"\npositions-mm = [[0, 0]]\nstart-charge = 5", "in [runs[1]]",
        "a method by cable has no positions")]
    [InlineData("battery = \"15 Wh\"", "batery = \"15 Wh\"", "line 8", "the key 'battery' is missing")]
    [InlineData("battery = \"15 Wh\"", "battery = \"15 Wh\"\ncolour = \"red\"", "line 11",
        "[device] has an unknown key \"colour\"; known here are ambient, background,")]
    [InlineData("burst-length = \"8 s\"", "burst-lenght = \"8 s\"", "line 23",
        "[device] has an unknown key \"burst-lenght\"; did you mean \"burst-length\"?")]
    [InlineData("battery = \"15 Wh\"", "battery = \"15\"", "line 10",
        "device.battery is the text \"15\"; a value with its unit in quotes, such as \"1.5 Wh\", was expected")]
    [InlineData("battery = \"15 Wh\"", "battery = \"-15 Wh\"", "line 10", "a value above zero")]
    [InlineData("burst-length = \"8 s\"", "burst-length = \"8 days\"", "line 23", "burst-length")]
    [InlineData("burst-length = \"8 s\"", "burst-length = \"170 h\"", "line 23", "a time of 7 days at most")]
    [InlineData("clock-drift = \"4 ppm\"", "clock-drift = \"-9000000 ppm\"", "clock-drift", "a drift between -10 % and 10 %")]
    [InlineData("battery = \"15 Wh\"", "battery = 15", "line 10", "device.battery is the number 15; a value with its unit")]
    [InlineData("pad = \"flat\"", "pad = \"round\"", "methods.pad.pad", "is the text \"round\"; one of flat was expected")]
    [InlineData("point = \"usb\"", "point = \"plug\"", "meters.bench.point", "is \"plug\"; it must be one of wall, usb, device, battery")]
    [InlineData("accuracy = \"0.5 % + 10 mW\"", "accuracy = \"good\"", "line",
        "expected a share, a fixed part, or both, such as '0.1 % + 1 mW'")]
    [InlineData("loss-resistance = \"110 mohm\"", "loss-resistance = \"10 mohm\"", "in [adapters.mains-20]", "cannot be smaller")]
    [InlineData("charge-voltage = \"4.40 V\"", "charge-voltage = \"4.60 V\"", "in [device]", "must not lie above the curve's end")]
    [InlineData("pulse-length = \"70 ms\"", "pulse-length = \"700 ms\"", "in [pads.flat]", "a pulse must be shorter")]
    [InlineData("separator = \";\"", "separator = \",\"", "in [meters.plug.text]", "a comma cannot be both")]
    [InlineData("start = \"2026-03-02T18:00:00+01:00\"", "start = \"yesterday\"", "line 6", "expected a date and time with offset")]
    [InlineData("meters = [\"plug\"]", "meters = [\"scope\"]", "standby", "there is no meter 'scope'; the meters are bench, plug")]
    [InlineData("start-charge = 5", "start-charge = 150", "runs[1].start-charge", "a share from 0 to 100 % was expected")]
    [InlineData("start-charge = 5\n", "", "in [runs[1]]", "the key 'start-charge' is missing")]
    [InlineData("turns = 18", "turns = 18.5", "pads.flat.primary.turns", "a whole number from 1 to 1000")]
    [InlineData("gap-length = \"95 s\"", "gap-length = \"0 s\"", "mishaps", "a gap needs both")]
    [InlineData("{ meter = \"bench\", clock-ahead", "{ meter = \"bench\", clock-ahead = \"1 s\" }, { meter = \"bench\", clock-ahead",
        "mishaps", "and 'bench' has two")]
    [InlineData("seed = 20260302", "seed = = 3", "line 5", "this is not valid TOML")]
    public void What_cannot_be_used_is_said_with_its_line(string old, string replaced, string place, string message)
    {
        string text = SampleStudy.ScenarioText;
        int at = text.IndexOf(old, StringComparison.Ordinal);
        Assert.True(at >= 0, "the sample holds " + old);
        string broken = text[..at] + replaced + text[(at + old.Length)..];
        InputException problem = Assert.Throws<InputException>(() => SimulationScenario.Parse(broken, "mine.toml"));
        Assert.StartsWith("mine.toml", problem.Message, StringComparison.Ordinal);
        Assert.Contains(place, problem.Message, StringComparison.Ordinal);
        Assert.Contains(message, problem.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("\n", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_file_is_said_to_be_missing() =>
        Assert.Equal(InputProblem.Missing, Assert.Throws<InputException>(() => SimulationScenario.Load("nowhere.toml")).Problem);

    [Fact]
    public void An_own_open_circuit_curve_is_taken()
    {
        string toml = SampleStudy.ScenarioText.Replace("charge-voltage = \"4.40 V\"",
            "charge-voltage = \"3.60 V\"\nopen-circuit = [[0, 2.8], [10, 3.2], [90, 3.35], [100, 3.6]]", StringComparison.Ordinal);
        DeviceModel device = SimulationScenario.Parse(toml).Device;
        Assert.Equal(3.275, device.Curve.VoltageV(0.5), 1e-12);
        Assert.Equal(0.3 + (0.8 * 3.275) + 0.3475, device.Curve.MeanV, 1e-12);
        Assert.Equal(device.Curve.MeanV, device.Curve.AreaV(1), 1e-12);
    }
}
