using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>The US procedure and the European limits, as a user meets them.</summary>
public sealed class PublishedProcedureTests : IDisposable
{
    private const string Measured = "battery-discharge = \"11.0 Wh\"\nbattery-voltage = 3.85";

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    // By hand, class 2 and equation (ii): the cable's day holds 16 Wh and 21.5 h at 0.5 W, 26.75 Wh in all;
    // 0.365 · (0.54 · (26.75 − 5 · 0.5 − 11) · 24 / 19 + 5.29 · 0.05) = 3.395 kWh a year. Tolerance: the charge starts within a minute,
    // 0.11 Wh of 26.75.
    [Fact]
    public void A_day_of_logs_gives_the_unit_energy_consumption()
    {
        var run = Audit(InventedStudy.Day(_folder, Measured), "--procedure", "us-appendix-y");
        var test = Test(run.Json, "cable");
        Assert.Equal("nothing-against", test.GetProperty("verdict").GetString());
        Assert.Equal("cable-1", test.GetProperty("run").GetString());
        Assert.Equal("ii", test.GetProperty("equation").GetString());
        Assert.Equal(2, test.GetProperty("class").GetInt32());
        Assert.Equal(26.75, Value(test.GetProperty("e24")), 0.11);
        Assert.Equal(0.5, Value(test.GetProperty("maintenancePower")), 0.001);
        Assert.Equal(0.05, Value(test.GetProperty("noBatteryPower")), 0.001);
        Assert.Equal(3.395, Value(test.GetProperty("unitEnergyConsumption")), 0.03);
        Assert.Equal(("read", "2026-11-26"),
            (test.GetProperty("limit").GetProperty("mark").GetString(), test.GetProperty("limit").GetProperty("readOn").GetString()));
        Assert.Equal("cannot-tell", test.GetProperty("limit").GetProperty("standing").GetString());
        Assert.Equal(JsonValueKind.Null, test.GetProperty("limit").GetProperty("doubt").ValueKind);
        Assert.Equal(JsonValueKind.Null, run.Json.GetProperty("procedure").GetProperty("methods")[0].GetProperty("represented")
            .GetProperty("value").ValueKind);
        string text = Words(Run.In(_folder.Path, "audit", "study.toml", "--procedure", "us-appendix-y", "--out", "report").Output);
        Assert.Contains("unit energy consumption: 3.39", text, StringComparison.Ordinal);
        Assert.Contains("last read 2026-11-26", text, StringComparison.Ordinal);
        Assert.Contains("the same battery charged by cable", text, StringComparison.Ordinal);
        Assert.Contains("not a certificate", text, StringComparison.Ordinal);
        string report = File.ReadAllText(Path.Combine(_folder.Path, "report", "report.md"));
        Assert.Contains("## US procedure", report, StringComparison.Ordinal);
        Assert.Contains("last read 2026-11-26", report, StringComparison.Ordinal);
        Assert.Contains("Named only: 10 CFR 430.32(w)", report, StringComparison.Ordinal);
        Assert.Contains("Separate figures of appendix Y1", report, StringComparison.Ordinal);
    }

    [Fact]
    public void A_phone_pad_lies_outside_the_procedures_scope()
    {
        var run = Audit(InventedStudy.Day(_folder, Measured), "--procedure", "us-appendix-y");
        var test = Test(run.Json, "pad");
        Assert.Equal("outside-scope", test.GetProperty("verdict").GetString());
        Assert.StartsWith("arithmetic of the procedure, outside its scope", test.GetProperty("text").GetString(), StringComparison.Ordinal);

        // 24 Wh and 21 h at 1.2 W: 49.2 Wh; 0.365 · (0.54 · (49.2 − 6 − 11) · 24 / 19 + 5.29 · 0.25).
        Assert.Equal(0.365 * ((0.54 * 32.2 * 24 / 19) + (5.29 * 0.25)), Value(test.GetProperty("unitEnergyConsumption")), 0.05);
    }

    // 3.395 against 4.534 kWh a year: with the limits of the discharge energy known, 0.249 · 0.2 / √3 kWh a year of uncertainty from them.
    [Fact]
    public void With_the_limits_of_the_discharge_energy_the_cable_stands_inside_its_limit()
    {
        var run = Audit(InventedStudy.Day(_folder, Measured + "\nbattery-discharge-within = \"0.2 Wh\""), "--procedure", "us-appendix-y");
        Assert.Equal("inside", Test(run.Json, "cable").GetProperty("limit").GetProperty("standing").GetString());
        Assert.Contains("charged by cable", Test(run.Json, "pad").GetProperty("limit").GetProperty("doubt").GetString(),
            StringComparison.Ordinal);
    }

    [Fact]
    public void With_the_rated_energy_the_procedure_is_not_met()
    {
        var run = Audit(InventedStudy.Day(_folder, "battery = \"11.0 Wh\"\nbattery-voltage = 3.85"), "--procedure", "us-appendix-y");
        var test = Test(run.Json, "cable");
        Assert.Equal("not-met", test.GetProperty("verdict").GetString());
        Assert.StartsWith("procedure not met (discharge-energy)", test.GetProperty("text").GetString(), StringComparison.Ordinal);
        Assert.Contains("rated battery energy", test.GetProperty("unitEnergyConsumption").GetProperty("assumed").GetString(),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Logs_that_are_too_short_name_what_is_missing_and_the_audit_goes_on()
    {
        string study = InventedStudy.Day(_folder, Measured);
        InventedStudy.Log(_folder, "cable.csv", (10, 0.05), (150, 6.4), (40, 0.5));
        InventedStudy.Log(_folder, "cable-waiting.csv", (20, 0.05));
        var run = Audit(study, "--procedure", "us-appendix-y");
        var test = Test(run.Json, "cable");
        Assert.Equal("not-met", test.GetProperty("verdict").GetString());
        Assert.Equal(JsonValueKind.Null, test.GetProperty("unitEnergyConsumption").ValueKind);
        Assert.Contains("of the 24 h", test.GetProperty("unitEnergyConsumptionReason").GetString(), StringComparison.Ordinal);
        string[] missing = [.. test.GetProperty("conditions").EnumerateArray().Where(c => c.GetProperty("state").GetString() == "not-met")
            .Select(c => c.GetProperty("id").GetString()!)];
        Assert.Equal(["test-duration", "no-battery-period"], missing);
        string text = Words(Run.In(_folder.Path, "audit", study, "--procedure", "us-appendix-y").Output);
        Assert.Contains("cable, run cable-1: procedure not met (test-duration, no-battery-period)", text, StringComparison.Ordinal);
        Assert.Contains("40 min are needed", Words(File.ReadAllText(Path.Combine(_folder.Path, "chargeaudit-report", "report.md"))),
            StringComparison.Ordinal);
    }

    [Fact]
    public void The_procedure_is_not_worked_out_unasked_and_needs_the_wall()
    {
        string study = InventedStudy.UsbOnly(_folder, "");
        var unasked = Audit(study);
        Assert.Equal(JsonValueKind.Null, unasked.Json.GetProperty("procedure").ValueKind);
        Assert.Contains("none was asked for", unasked.Json.GetProperty("procedureReason").GetString(), StringComparison.Ordinal);
        var asked = Test(Audit(study, "--procedure", "us-appendix-y").Json, "cable");
        Assert.Equal(JsonValueKind.Null, asked.GetProperty("run").ValueKind);
        Assert.Contains("no run of cable was measured at the wall", asked.GetProperty("conditions")[0].GetProperty("text").GetString(),
            StringComparison.Ordinal);
        Assert.Equal(64, Run.In(_folder.Path, "audit", study, "--procedure", "another").Status);
    }

    // Two runs of 3.395 kWh a year each: no scatter, so the mean stands.
    [Fact]
    public void Several_runs_give_a_represented_value()
    {
        string study = InventedStudy.Day(_folder, Measured);
        InventedStudy.Log(_folder, "cable-2.csv", (10, 0.05), (150, 6.4), (1300, 0.5));
        const string Another = "[[runs]]\nmethod = \"cable\"\nlogs = { wall = { file = \"cable-2.csv\", meter = \"plug\" } }\n";
        string text = File.ReadAllText(study);
        File.WriteAllText(study, text.Insert(text.IndexOf("[[runs]]", StringComparison.Ordinal), Another));
        var represented = Audit(study, "--procedure", "us-appendix-y").Json.GetProperty("procedure").GetProperty("methods")[0]
            .GetProperty("represented");
        Assert.Equal(3.395, represented.GetProperty("value").GetDouble(), 0.03);
        Assert.Contains("separate units", represented.GetProperty("note").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void European_limits_stand_beside_an_adapter_alone_and_never_beside_a_waiting_pad()
    {
        var run = Audit(InventedStudy.Day(_folder, Measured, "[adapter]\noutput = \"20 W\"\nkind = \"ac-dc\""));
        var cable = Limits(run.Json, "cable").Single(l => l.GetProperty("id").GetString() == "eu-2019-1782/ac-dc/no-load");
        Assert.Equal(0.10, cable.GetProperty("limit").GetDouble());
        Assert.Equal("inside", cable.GetProperty("standing").GetString());
        var pads = Limits(run.Json, "pad").ToList();
        Assert.All(pads, l => Assert.Equal("not-compared", l.GetProperty("standing").GetString()));
        Assert.All(pads.Where(l => l.GetProperty("id").GetString()!.StartsWith("eu-2019-1782", StringComparison.Ordinal)),
            l => Assert.Equal(JsonValueKind.Null, l.GetProperty("value").ValueKind));
        var later = pads.Single(l => l.GetProperty("id").GetString()!.StartsWith("eu-2025-2052", StringComparison.Ordinal));
        Assert.Equal(JsonValueKind.Null, later.GetProperty("value").ValueKind);
        Assert.Equal((JsonValueKind.Null, "2028-12-14"),
            (later.GetProperty("limit").ValueKind, later.GetProperty("appliesFrom").GetString()));
        string text = Words(Run.In(_folder.Path, "audit", "study.toml", "--details").Output);
        Assert.Contains("Published limits, for information; not a certificate", text, StringComparison.Ordinal);
        Assert.DoesNotContain("0.250 W (0.240 to 0.260) is beyond it", text, StringComparison.Ordinal);
        string report = File.ReadAllText(Path.Combine(_folder.Path, "chargeaudit-report", "report.md"));
        Assert.Contains("## Published limits", report, StringComparison.Ordinal);
        Assert.Contains("2019/1782", report, StringComparison.Ordinal);

        static IEnumerable<JsonElement> Limits(JsonElement results, string method) => results.GetProperty("yardsticks").EnumerateArray()
            .Single(y => y.GetProperty("method").GetString() == method).GetProperty("limits").EnumerateArray();
    }

    private Run Audit(string study, params string[] more)
    {
        var run = Run.In(_folder.Path, ["audit", study, "--format", "json", .. more]);
        Assert.Equal((0, ""), (run.Status, run.Error));
        ResultsSchema.Holds(run.Json);
        return run;
    }

    private static JsonElement Test(JsonElement results, string method) =>
        Assert.Single(results.GetProperty("procedure").GetProperty("methods").EnumerateArray()
        .Single(m => m.GetProperty("method").GetString() == method).GetProperty("tests").EnumerateArray());

    private static string Words(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static double Value(JsonElement figure) => figure.GetProperty("value").GetDouble();
}
