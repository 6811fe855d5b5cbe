using System.Text.RegularExpressions;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.Docs;

/// <summary>docs/sources.md against the data files and against what the program shows.</summary>
public sealed class SourcesPageTests
{
    private static readonly string Page = File.ReadAllText(Golden.RepositoryFile("docs", "sources.md"));

    [Fact]
    public void Every_limit_stands_there_as_in_the_data_file_and_no_other()
    {
        var expected = Data("yardsticks.tsv").Select(r => string.Join(" | ",
            $"`{r["id"]}`", r["variable"] == "none" ? "any" : r["interval"], r["rule"], r["unit"], r["source"], r["applies-from"],
                Dash(r["applies-until"]), r["mark"], Dash(r["read-on"])));
        Assert.Equal(expected, Rows("Limits"));
    }

    [Fact]
    public void Every_class_stands_there_as_in_the_data_file_and_no_other()
    {
        var expected = Data("us-appendix-y-classes.tsv").Select(r => string.Join(" | ",
            r["class"], r["battery"], r["active-maintenance-h"], r["standby-h"], r["off-h"], r["charges-per-day"], r["mark"],
                r["border-mark"], r["read-on"]));
        Assert.Equal(expected, Rows("Classes of the US procedure"));
    }

    [Fact]
    public void What_the_program_shows_of_a_limit_is_what_the_page_says()
    {
        Assert.All(Yardsticks.All, y => Assert.Contains(Rows("Limits"), r =>
            r.Contains($"`{y.Id}`", StringComparison.Ordinal) && r.Contains(y.Source, StringComparison.Ordinal)
            && r.EndsWith(y.Mark == SourceMark.Read
                ? InvariantText.Of($"READ | {y.ReadOn:yyyy-MM-dd}")
                : "MEMORY | –", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_condition_of_the_procedure_stands_there_with_its_clause()
    {
        string conditions = string.Join('\n', Rows("Conditions of the US procedure"));
        var shown = Shown().ToList();
        Assert.True(shown.Count >= 14);
        Assert.All(shown, c => Assert.Contains($"`{c.Id}`", conditions, StringComparison.Ordinal));

        // The clauses that a condition's sentence names stand in its row.
        foreach (var check in shown)
        {
            string row = Rows("Conditions of the US procedure").Single(r => r.Contains($"`{check.Id}`", StringComparison.Ordinal));
            Assert.All(Regex.Matches(check.Text, @"3\.\d+(\.\d+)?(\([a-z]\))?(?! ?[0-9Whm%])").Select(m => m.Value),
                clause => Assert.Contains(clause, row, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Figures_that_stand_in_code_are_those_of_the_page()
    {
        string other = string.Join('\n', Rows("Other figures"));
        Assert.Contains(InvariantText.Of($"{UnitEnergyConsumption.DaysPerYear} d, {UnitEnergyConsumption.MaintenanceH} h"), other,
            StringComparison.Ordinal);
        Assert.Contains(InvariantText.Of($"{Currency.All.Count} rows"), other, StringComparison.Ordinal);
        Assert.Contains(InvariantText.Of($"{ChargeAudit.Checking.Planning.StandbyPlan.LeastLengthS / 60} min, first third"), other,
            StringComparison.Ordinal);
        Assert.Contains(InvariantText.Of($"{ChargeAudit.Measuring.Integration.PowerRule.GreatestDirectVoltageV} V direct current"), other,
            StringComparison.Ordinal);
        foreach (var ended in Currency.All.Where(c => c.EndsOn is not null))
        {
            Assert.Contains(InvariantText.Of($"| {ended.EndsOn:yyyy-MM-dd}, then {ended.Successor} |"), $"| {other}",
                StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_page_itself_names_rules_that_are_shown_without_a_number()
    {
        Assert.All(UsAppendixY.NamedOnly,
            n => Assert.Contains(Regex.Match(n, @"10 CFR [\d.]+\(\w\)|section [\d.]+\(\w\)").Value, Page, StringComparison.Ordinal));
        Assert.Equal(2, UsAppendixY.NamedOnly.Count);
    }

    private static IEnumerable<ProcedureCheck> Shown()
    {
        var power = new List<UsAppendixYInput>();
        Figure known = Figure.Of(Measured.Exact(1, "Wh"));
        var none = ChargeAndMaintenanceTest.None("test-log", "no log");
        foreach (var device in new[] { new DeviceInfo(), new DeviceInfo { BatteryDischargeWh = 11, BatteryV = 3.85 },
            new DeviceInfo { BatteryDischargeWh = 4000, BatteryV = 48 } })
        {
            power.Add(new UsAppendixYInput
            {
                Test = none,
                Device = device,
                Coupling = ChargerCoupling.InductiveDry,
                Placement = PadPlacement.OpenPlacement,
                ActiveChargeEnergy = known,
            });
        }

        // A day at 1 W, and an hour of waiting.
        var day = Invented(25 * 3600);
        var test = ChargeAndMaintenanceTest.From(new ChargeAndMaintenanceLog
        {
            Envelope = day,
            LogEndS = 25 * 3600,
            MedianIntervalS = 60,
            FullAtS = 19.5 * 3600,
        });
        power.Add(power[1] with { Test = test, NoBattery = NoBatteryTest.From(Invented(3600), 0, 3600) });
        return power.SelectMany(i => UsAppendixY.Of(i).Checks).DistinctBy(c => c.Id);
    }

    private static ChargeAudit.Measuring.Integration.PowerEnvelope Invented(int lengthS)
    {
        string file = Path.GetTempFileName();
        File.WriteAllLines(file,
            ["time (s),P (W)", .. Enumerable.Range(0, (lengthS / 60) + 1).Select(i => $"{60 * i},{(i < 100 ? 2 : 1)}")]);
        var measured = ChargeAudit.Measuring.LogMeasurer.Measure(new ChargeAudit.Measuring.MeasureRequest { Paths = [file] }, null,
            TestContext.Current.CancellationToken);
        File.Delete(file);
        return measured.Result.Envelope;
    }

    private static string Dash(string text) => text.Length == 0 ? "–" : text;

    // Rows of the first table below a heading, without its head.
    private static List<string> Rows(string heading) =>
    [
        .. Page.Split($"## {heading}\n", 2)[1].Split("\n## ", 2)[0].Split('\n')
            .SkipWhile(l => !l.StartsWith("|---", StringComparison.Ordinal)).Skip(1).TakeWhile(l => l.StartsWith('|'))
                .Select(l => l.Trim('|', ' ')),
    ];

    private static IEnumerable<Dictionary<string, string>> Data(string name)
    {
        string file = Directory.EnumerateFiles(Golden.RepositoryFile("src"), name, SearchOption.AllDirectories)
            .First(f => !f.Contains("bin", StringComparison.Ordinal) && !f.Contains("obj", StringComparison.Ordinal));
        string[][] lines = [.. File.ReadAllLines(file).Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split('\t'))];
        return lines.Skip(1).Select(l => lines[0].Zip(l).ToDictionary(p => p.First, p => p.Second));
    }
}
