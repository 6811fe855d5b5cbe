using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>
/// Logs that nobody in this project wrote: a phone charger at a metered socket (tracebase, Open Database License) and a lithium cell on a
/// laboratory cycler (CALCE). The expected sums were worked out apart from this program and stand in the README beside those files.
/// </summary>
public sealed class OpenDataTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("charger-smartphone-day-1.csv", 7.366, 3.641)]
    [InlineData("charger-smartphone-day-2.csv", 26.489, 20.363)]
    [InlineData("charger-smartphone-gaps.csv", 9.334, 4.148)]
    public void The_charger_logs_give_the_sums_and_an_interval_that_holds_the_other_column_too(string file, double oneSecondWh,
        double eightSecondWh)
    {
        var log = Measure(Path.Combine(Needs.OpenData(), file), "--columns", "time,power", "--accuracy", "power=1 %");
        var energy = log.GetProperty("energy");
        Assert.Equal(oneSecondWh, energy.GetProperty("value").GetDouble(), 0.005 * oneSecondWh);
        Assert.InRange(eightSecondWh, energy.GetProperty("low").GetDouble(), energy.GetProperty("high").GetDouble());
        Assert.Contains(log.GetProperty("doubts").EnumerateArray(), d => d.GetString()!.Contains("steps of 2 W", StringComparison.Ordinal)
            && d.GetString()!.Contains("no stand-by power", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("charger-smartphone-day-1.csv", 2)]
    [InlineData("charger-smartphone-day-2.csv", 0)]
    [InlineData("charger-smartphone-gaps.csv", 78)]
    public void The_gaps_are_counted(string file, int gaps) =>
        Assert.Equal(gaps, Faults(Measure(Path.Combine(Needs.OpenData(), file), "--columns", "time,power"), "gap"));

    [Theory]
    [InlineData("charger-smartphone-day-1.csv")]
    [InlineData("charger-smartphone-gaps.csv")]
    public void The_energy_outside_charges_is_stated_with_its_interval_and_the_step_is_named_as_the_limit(string file)
    {
        string path = Path.Combine(Needs.OpenData(), file);
        var log = Measure(path, "--columns", "time,power", "--point", "wall");
        var outside = log.GetProperty("modes").EnumerateArray().Where(m => m.GetProperty("mode").GetString() != "charge").ToList();
        double energyWh = outside.Sum(m => m.GetProperty("energy").GetProperty("value").GetDouble());
        double hours = outside.Sum(m => m.GetProperty("duration").GetProperty("value").GetDouble()) / 3600;

        // A reading cut down or rounded to 2 W is off by up to 2 W either way, and energy is never below zero.
        string expected =
            InvariantText.Of($"The energy outside charges, {energyWh:F2} Wh, lies anywhere from 0.00 to {energyWh + (2 * hours):F2} Wh");
        string doubt = Assert.Single(log.GetProperty("doubts").EnumerateArray().Select(d => d.GetString()!),
            d => d.Contains("The energy outside charges", StringComparison.Ordinal));
        Assert.Contains(expected, doubt, StringComparison.Ordinal);
        Assert.Contains("the meter's step, not the charger, sets that figure", doubt, StringComparison.Ordinal);

        string study = _folder.File("study.toml", $$"""
            reference = "cable"
            [meters.socket]
            point = "wall"
            columns = { time = 1, power = 2 }
            [methods.cable]
            kind = "wired"
            [[runs]]
            method = "cable"
            session = 1
            logs = { wall = { file = '{{path}}', meter = "socket" } }
            """);
        var audit = Run.In(_folder.Path, "audit", study, "--format", "json");
        Assert.Equal((0, ""), (audit.Status, audit.Error));
        Assert.Contains(audit.Json.GetProperty("logs")[0].GetProperty("doubts").EnumerateArray(),
            d => d.GetString()!.Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void The_columns_of_a_log_without_header_can_stand_in_a_study()
    {
        string file = Path.Combine(Needs.OpenData(), "charger-smartphone-day-1.csv");
        string study = _folder.File("study.toml", $$"""
            reference = "cable"
            [meters.socket]
            point = "wall"
            columns = { time = 1, power = 2 }
            [methods.cable]
            kind = "wired"
            [[runs]]
            method = "cable"
            session = 1
            logs = { wall = { file = '{{file}}', meter = "socket" } }
            """);
        var run = Run.In(_folder.Path, "audit", study, "--format", "json");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Equal(7.366, run.Json.GetProperty("logs")[0].GetProperty("energy").GetProperty("value").GetDouble(), 0.005 * 7.366);
    }

    [Fact]
    public void The_cells_charge_is_all_rows_but_the_discharge_and_its_own_counter_decides()
    {
        var log = Measure(Path.Combine(Needs.OpenData(), "lithium-cell-charge.csv"), "--point", "battery");
        Assert.Equal(4.28398, log.GetProperty("energy").GetProperty("value").GetDouble(), 0.00001);
        Assert.Equal(4.28398, log.GetProperty("counterEnergy").GetProperty("value").GetDouble(), 0.00001);
        Assert.Equal("on-change", log.GetProperty("sampling").GetProperty("kind").GetString());
        Assert.Equal((0, 1, 0), (Faults(log, "gap"), Faults(log, "reversed"), Faults(log, "counter-mismatch")));
    }

    /// <summary>The trapezoids of the open data's description, worked out apart from this project.</summary>
    [Fact]
    public void The_cells_instantaneous_readings_give_the_trapezoids_of_the_description()
    {
        var log = Measure(Path.Combine(Needs.OpenData(), "lithium-cell-charge.csv"), "--point", "battery", "--samples", "instantaneous",
            "--columns", WithoutCounters);
        Assert.Equal(4.28941, log.GetProperty("energy").GetProperty("value").GetDouble(), 0.00001);
        Assert.Equal(1.07578, log.GetProperty("charge").GetProperty("value").GetDouble(), 0.00001);
    }

    /// <summary>The instrument's own counters say 4.28398 Wh and 1.07485 Ah; its readings, written on change in the taper, allow for
    /// that.</summary>
    [Fact]
    public void The_cells_readings_alone_hold_what_its_counters_say()
    {
        var log = Measure(
            Path.Combine(Needs.OpenData(), "lithium-cell-charge.csv"), "--point", "battery", "--columns", WithoutCounters, "--accuracy",
                "voltage=0.02 %", "--accuracy", "current=0.02 %");
        Assert.InRange(4.28398, log.GetProperty("energy").GetProperty("low").GetDouble(), log.GetProperty("energy").GetProperty("high")
            .GetDouble());
        Assert.InRange(1.07485, log.GetProperty("charge").GetProperty("low").GetDouble(), log.GetProperty("charge").GetProperty("high")
            .GetDouble());
        Assert.InRange(log.GetProperty("energy").GetProperty("high").GetDouble() - log.GetProperty("energy").GetProperty("low").GetDouble(),
            0, 0.02 * 4.28398);
    }

    private const string WithoutCounters = "time[s],-,current[A],voltage[V],-,-";

    private JsonElement Measure(params string[] arguments)
    {
        var run = Run.In(_folder.Path, ["measure", .. arguments, "--format", "json"]);
        Assert.Equal((0, ""), (run.Status, run.Error));
        return run.Json.GetProperty("logs")[0];
    }

    private static int Faults(JsonElement log, string kind) => log.GetProperty("faults").EnumerateArray()
        .Where(f => f.GetProperty("kind").GetString() == kind).Sum(f => f.GetProperty("count").GetInt32());
}
