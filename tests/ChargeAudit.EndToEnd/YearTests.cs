using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>A year at the wall, from small studies whose figures are worked out here by hand.</summary>
public sealed class YearTests : IDisposable
{
    private const string Flat = "[tariff]\ncurrency = \"EUR\"\nprice = 0.30\n";

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    // Cable by hand: a charge of 150 min at 6.4 W is 16 Wh; 365 of them 5.84 kWh; full for 8 h − 2.5 h a day at 0.5 W 1.004 kWh; waiting 5
    // 840 h at 0.05 W 0.292 kWh. Pad: 24 Wh, 8.76 kWh; 5 h at 1.2 W 2.19 kWh; 0.25 W 1.46 kWh. Tolerance 0.5 %: a charge's ends are known
    // to about a minute.
    [Fact]
    public void A_year_is_what_a_hand_works_out()
    {
        var results = Audit(InventedStudy.Day(_folder, "battery = \"11 Wh\"", Flat)).Json;
        Near(7.136, results, "cable", "energy");
        Near(12.41, results, "pad", "energy");
        Near(0.30 * 7.136, results, "cable", "cost");
        var detail = Year(results, "pad").GetProperty("detail");
        Assert.Equal(8760, detail.GetProperty("hoursPerYear").GetDouble());
        Assert.Equal(8760, Year(results, "pad").GetProperty("byMode").EnumerateArray().Sum(m => m.GetProperty("hoursPerYear").GetDouble()),
            1e-6);
        Assert.Equal((2.19 + 1.46) / 12.41, Value(detail.GetProperty("standbyShare")), 0.003);
        Assert.Equal(1.46, Value(detail.GetProperty("unplugging").GetProperty("energy")), 0.01);
        Assert.Equal(0.30 * 0.024, Value(detail.GetProperty("costPerCharge")), 0.0001);
        var draws = detail.GetProperty("energyMonteCarlo");
        Assert.InRange(Value(Year(results, "pad").GetProperty("energy")), draws.GetProperty("low").GetDouble(), draws.GetProperty("high")
            .GetDouble());
        var difference = Assert.Single(results.GetProperty("yearDifferences").EnumerateArray());
        Assert.Equal(12.41 - 7.136, Value(difference.GetProperty("energy")), 0.04);
        Assert.Equal(0.30 * (12.41 - 7.136), Value(difference.GetProperty("cost")), 0.012);
        Assert.Equal(JsonValueKind.Null, difference.GetProperty("co2").ValueKind);
    }

    [Fact]
    public void Without_a_price_there_is_no_cost_and_nothing_pays()
    {
        var run = Audit(InventedStudy.Day(_folder, "battery = \"11 Wh\""));
        foreach (string method in (string[])["cable", "pad"])
        {
            Assert.Equal(JsonValueKind.Null, Year(run.Json, method).GetProperty("cost").ValueKind);
            Assert.False(string.IsNullOrEmpty(Year(run.Json, method).GetProperty("costReason").GetString()));
            Near(method == "cable" ? 7.136 : 12.41, run.Json, method, "energy");
        }

        var payback = Assert.Single(run.Json.GetProperty("paybacks").EnumerateArray());
        Assert.Equal(JsonValueKind.Null, payback.GetProperty("years").ValueKind);
        Assert.Equal("kWh", Year(run.Json, "pad").GetProperty("detail").GetProperty("tornado")[0].GetProperty("resultUnit").GetString());
    }

    // The pad costs more to run, so buying it never pays; the other way about, 0.30 · 5.27 kWh = 1.58 a year are saved: 10 are paid
    // back after 6.3 years.
    [Theory]
    [InlineData("pad", 29, null)]
    [InlineData("cable", 10, 6.33)]
    public void A_charger_pays_where_it_saves(string bought, double price, double? years)
    {
        string study = InventedStudy.Day(_folder, "battery = \"11 Wh\"", Flat);
        string text = File.ReadAllText(study).Replace("purchase-price = 29\n", "", StringComparison.Ordinal);
        File.WriteAllText(study,
            text.Replace($"[methods.{bought}]\n", $"[methods.{bought}]\npurchase-price = {price}\n", StringComparison.Ordinal));
        var run = Audit(study);
        var payback = Assert.Single(run.Json.GetProperty("paybacks").EnumerateArray());
        Assert.Equal((bought, price), (payback.GetProperty("bought").GetString(), payback.GetProperty("price").GetDouble()));
        var printed = Run.In(_folder.Path, "audit", study);
        if (years is { } expected)
        {
            Assert.Equal(expected, Value(payback.GetProperty("years")), 0.1);
            Assert.Contains("pays for itself after 6.", printed.Output, StringComparison.Ordinal);
        }
        else
        {
            Assert.Contains("never pays", payback.GetProperty("yearsReason").GetString(), StringComparison.Ordinal);
            Assert.Contains("never pays", printed.Output, StringComparison.Ordinal);
        }
    }

    // From 22:00 on, all 150 min of a charge lie in the cheap hours; 8 h on the charger end at 06:00. Waiting runs from 06:00 to 22:00: of
    // these 16 h 14 h are dear on working days. 2027 holds 261 working days. Waiting: 0.05 W · (261 · (14 · 0.41 + 2 · 0.15) + 104 · 16 ·
    // 0.15).
    [Fact]
    public void A_tariff_by_the_hour_costs_what_the_hours_cost()
    {
        string study = InventedStudy.Day(_folder, "battery = \"11 Wh\"", """
            charging-start = "22:00"
            [tariff]
            currency = "EUR"
            timezone = "Europe/Lisbon"
            price = 0.15
            fixed-per-month = 9.5
            [[tariff.period]]
            days = ["workdays"]
            from = "08:00"
            to = "22:00"
            price = 0.41
            [co2]
            grams-per-kwh = 300
            """);
        var run = Audit(study);
        double waiting = 0.05e-3 * ((261 * ((14 * 0.41) + (2 * 0.15))) + (104 * 16 * 0.15));
        Assert.Equal(waiting, Mode(run.Json, "cable", "no-load"), 0.01 * waiting);
        Assert.Equal(0.15 * 5.84, Mode(run.Json, "cable", "charge"), 0.005);
        var detail = Year(run.Json, "cable").GetProperty("detail");
        Assert.Equal(114, Value(detail.GetProperty("fixedCharges")), 1e-9);
        Assert.Equal(0.3 * 7.136, Value(detail.GetProperty("co2")), 0.015);
        Assert.True(Value(Year(run.Json, "cable").GetProperty("cost")) < 2, "a fixed charge is no cost of a charger");
        string text = Run.In(_folder.Path, "audit", study, "--details").Output;
        Assert.Contains("114.00 EUR", text, StringComparison.Ordinal);
        Assert.Contains("CO₂", text, StringComparison.Ordinal);

        static double Mode(JsonElement results, string method, string mode) =>
            Value(Year(results, method).GetProperty("byMode").EnumerateArray()
            .Single(m => m.GetProperty("mode").GetString() == mode).GetProperty("cost"));
    }

    [Fact]
    public void Terminal_and_report_name_what_a_year_rests_on_and_what_moves_it()
    {
        string study = InventedStudy.Day(_folder, "battery = \"11 Wh\"", Flat);
        File.WriteAllText(study, File.ReadAllText(study).Replace("charges-per-week = 7\n", "", StringComparison.Ordinal));
        var run = Run.In(_folder.Path, "audit", study, "--details", "--out", "report");
        Assert.Equal((0, ""), (run.Status, run.Error));
        string report = File.ReadAllText(Path.Combine(_folder.Path, "report", "report.md"));
        foreach (string text in (string[])[Words(run.Output), report])
        {
            Assert.Contains("our assumption", text, StringComparison.Ordinal);
            Assert.Contains("A year has 8760 h", text, StringComparison.Ordinal);
            Assert.Contains("charges per week", text, StringComparison.Ordinal);
            Assert.Contains("20 % either way", text, StringComparison.Ordinal);
        }

        Assert.Contains("charts/year-moves.svg", report, StringComparison.Ordinal);
        Assert.Contains("What changes a year of charging on the pad most", report, StringComparison.Ordinal);
        Assert.True(new FileInfo(Path.Combine(_folder.Path, "report", "charts", "year-moves.png")).Length > 5000);
    }

    // 12 Wh at usb and an efficiency of 80 % are 15 Wh at the wall.
    [Fact]
    public void A_wall_side_that_was_not_measured_says_so_everywhere()
    {
        string study = InventedStudy.UsbOnly(_folder,
            "[adapter]\nefficiency = 80\nefficiency-within = 3\nno-load = \"0.05 W\"\nno-load-within = \"0.02 W\"\n" + Flat);
        var run = Audit(study);
        foreach (string method in (string[])["cable", "pad"])
        {
            var wall = Method(run.Json, method).GetProperty("points").GetProperty("wall");
            Assert.All((string[])["energyPerCharge", "maintenancePower", "noLoadPower"],
                f => Assert.Contains("80 %", wall.GetProperty(f).GetProperty("assumed").GetString(), StringComparison.Ordinal));
            Assert.All((string[])["energy", "cost"],
                f => Assert.Contains("80 %", Year(run.Json, method).GetProperty(f).GetProperty("assumed").GetString(),
                StringComparison.Ordinal));
            Assert.False(Method(run.Json, method).GetProperty("points").GetProperty("usb").GetProperty("energyPerCharge")
                .TryGetProperty("assumed", out _));
        }

        Assert.Equal(15, Value(Method(run.Json, "cable").GetProperty("points").GetProperty("wall").GetProperty("energyPerCharge")), 0.2);
        Assert.All(run.Json.GetProperty("comparisons").EnumerateArray().Where(c => c.GetProperty("point").GetString() == "wall"),
            c => Assert.Contains("80 %", c.GetProperty("overheadRatio").GetProperty("assumed").GetString(), StringComparison.Ordinal));
        string rests = "rests on an adapter efficiency of 80 % that was given and not measured";
        string text = Words(Run.In(_folder.Path, "audit", study).Output);
        Assert.Contains("at the adapter's output than charging by cable (95 %", text, StringComparison.Ordinal);
        Assert.Contains("The figures for a year of charging by cable and on the pad rest on an adapter efficiency of 80 % that was given "
            + "and not measured", text, StringComparison.Ordinal);
        Assert.Contains("wall (derived)", text, StringComparison.Ordinal);
        Assert.Contains("[1] " + rests, text, StringComparison.Ordinal);
        foreach (string file in (string[])["report.md", "report.html"])
        {
            string report = System.Net.WebUtility.HtmlDecode(File.ReadAllText(Path.Combine(_folder.Path, "chargeaudit-report", file)))
                .Replace('\u00a0', ' ');
            Assert.Contains(rests, report, StringComparison.Ordinal);
            Assert.Contains("at the wall (derived)", report, StringComparison.Ordinal);
        }
    }

    // By hand: 7 W at usb are 0.10 + 1.15 · 7 = 8.15 W at the wall, so 17.5 Wh are 20.4 Wh; waiting at 0.12 W lies between 0.22 W and 0.24
    // W.
    [Fact]
    public void An_adapter_is_fitted_from_the_charges_of_another_method()
    {
        var run = Audit(InventedStudy.SameAdapter(_folder));
        var wall = Method(run.Json, "pad").GetProperty("points").GetProperty("wall");
        Assert.Equal(17.5 * 8.15 / 7, Value(wall.GetProperty("energyPerCharge")), 0.25);
        Assert.Contains("fitted from other logs of the study", wall.GetProperty("energyPerCharge").GetProperty("assumed").GetString(),
            StringComparison.Ordinal);
        Assert.InRange(Value(wall.GetProperty("noLoadPower")), 0.22, 0.25);
        Assert.True(wall.GetProperty("energyPerCharge").GetProperty("u").GetDouble() > 0);
        Assert.Contains("fitted from other logs", Year(run.Json, "pad").GetProperty("energy").GetProperty("assumed").GetString(),
            StringComparison.Ordinal);
        Assert.False(Method(run.Json, "cable").GetProperty("points").GetProperty("wall").GetProperty("energyPerCharge")
            .TryGetProperty("assumed", out _));
        Assert.Contains("fitted from other logs", Words(Run.In(_folder.Path, "audit", "study.toml").Output), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_an_adapter_the_wall_side_stays_unknown()
    {
        var run = Audit(InventedStudy.UsbOnly(_folder, Flat));
        Assert.Equal(JsonValueKind.Null, Year(run.Json, "pad").GetProperty("energy").ValueKind);
        Assert.Contains("[adapter]", Year(run.Json, "pad").GetProperty("energyReason").GetString(), StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, Assert.Single(run.Json.GetProperty("yearDifferences").EnumerateArray())
            .GetProperty("energy").ValueKind);
    }

    private Run Audit(string study)
    {
        var run = Run.In(_folder.Path, "audit", study, "--format", "json");
        Assert.Equal((0, ""), (run.Status, run.Error));
        ResultsSchema.Holds(run.Json);
        return run;
    }

    private static void Near(double expected, JsonElement results, string method, string figure) =>
        Assert.Equal(expected, Value(Year(results, method).GetProperty(figure)), 0.005 * expected);

    /// <summary>Text with all white space alike, so that where a line ends plays no part.</summary>
    private static string Words(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static JsonElement Method(JsonElement results, string name) =>
        results.GetProperty("methods").EnumerateArray().First(m => m.GetProperty("name").GetString() == name);

    private static JsonElement Year(JsonElement results, string name) => Method(results, name).GetProperty("yearly");

    private static double Value(JsonElement figure) => figure.GetProperty("value").GetDouble();
}
