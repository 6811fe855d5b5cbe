using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public class StudyReaderTests
{
    private const string Whole = """
        title = "Two ways"
        reference = "cable"

        [device]
        name = "Phone"
        battery = "15.4 Wh"
        battery-discharge = "14.9 Wh"

        [meters.bench]
        point = "usb"
        accuracy = { voltage = "0.05 % + 2 mV", current = "0.1 % + 1 mA" }
        samples = "average-ending"
        burden = "0.03 ohm"
        self-power = "0.1 W from usb"
        columns = { time = "Elapsed", voltage = { header = "U", unit = "mV" }, current = 3 }
        timezone = "Europe/Lisbon"

        [meters.plug]
        point = "wall"

        [methods.cable]
        kind = "wired"

        [methods.pad]
        kind = "inductive"
        [methods.pad.use]
        charges-per-week = 5

        [[runs]]
        method = "cable"
        logs = { usb = { file = "c1.csv", meter = "bench" }, wall = { file = ["c1a.csv", "c1b.csv"], meter = "plug" } }
        start-charge = 5
        end-charge = 100

        [[runs]]
        method = "pad"
        logs = { usb = "p1.csv" }
        from = 2026-03-01T21:30:00
        to = 7200
        session = 2
        exclude = "the phone was used"

        [[standby]]
        method = "pad"
        logs = { wall = { file = "wait.csv", meter = "plug" } }

        [use]
        charges-per-week = 6
        charge-share = 60
        hours-on-charger-per-charge = 8
        plugged-in-all-day = false

        [tariff]
        currency = "EUR"
        price = 0.31
        """;

    [Fact]
    public void A_whole_study_is_read_as_it_was_written()
    {
        var study = StudyReader.Read("study.toml", Whole, "here");
        Assert.Equal("Two ways", study.Title);
        Assert.Equal("cable", study.Reference);
        Assert.Equal((15.4, 14.9), (study.Device.BatteryWh, study.Device.BatteryDischargeWh));
        var bench = study.Meters["bench"];
        Assert.Equal(MeasuringPoint.Usb, bench.Options.Point);
        Assert.Equal("0.05 % + 2 mV", bench.Accuracy[LogQuantity.Voltage].Text);
        Assert.Equal(SampleKind.AverageEnding, bench.Options.Samples);
        Assert.Equal((0.03, 0.1, MeasuringPoint.Usb), (bench.BurdenOhm, bench.SelfPowerW, bench.SelfPowerFrom));
        Assert.Equal(("U", "mV"), (bench.Options.Columns[LogQuantity.Voltage].Header, bench.Options.Columns[LogQuantity.Voltage].Unit));
        Assert.Equal(3, bench.Options.Columns[LogQuantity.Current].Position);
        Assert.Equal(["cable-1", "pad-1"], study.Runs.Select(r => r.Id));
        Assert.Equal(["c1a.csv", "c1b.csv"], study.Runs[0].Logs[MeasuringPoint.Wall].Files);
        Assert.Equal((5.0, 100.0), (study.Runs[0].StartChargePercent, study.Runs[0].EndChargePercent));
        Assert.Equal(new DateTime(2026, 3, 1, 21, 30, 0), study.Runs[1].From!.Absolute!.Value.DateTime);
        Assert.False(study.Runs[1].From!.HasOffset);
        Assert.Equal(7200, study.Runs[1].To!.ElapsedS);
        Assert.Equal(2, study.Runs[1].Session);
        Assert.Equal("the phone was used", study.Runs[1].Exclude);
        Assert.Equal("pad", Assert.Single(study.Standby).Method);
        Assert.Equal((6, 60, 8, false),
            (study.Use.ChargesPerWeek, study.Use.ChargeSharePercent, study.Use.HoursOnChargerPerCharge, study.Use.PluggedInAllDay));
        Assert.Equal(5, study.Methods[1].Use!.ChargesPerWeek);
        Assert.Equal(("EUR", 0.31), (study.Tariff!.Currency, study.Tariff.PricePerKwh));
    }

    [Theory]
    [InlineData("reference = \"cable\"", "referense = \"cable\"",
        "line 2: the study has an unknown key \"referense\"; did you mean \"reference\"?")]
    [InlineData("reference = \"cable\"", "reference = \"wire\"",
        "line 2: reference is \"wire\", which is no method of this study; known are cable, pad")]
    [InlineData("battery = \"15.4 Wh\"", "battery = \"15.4\"",
        "line 6: device.battery is \"15.4\"; a value with its unit was expected, such as \"15.4 Wh\"")]
    [InlineData("point = \"wall\"", "point = \"mains\"",
        "line 19: meters.plug.point is \"mains\"; it must be one of wall, usb, device, battery")]
    [InlineData("0.1 % + 1 mA", "? % + ? mA", "line 11: meters.bench.accuracy.current: the accuracy '? % + ? mA' ")]
    [InlineData("kind = \"inductive\"", "kind = 3", "line 25: methods.pad.kind is the number 3; a text in quotes was expected")]
    [InlineData("start-charge = 5", "start-charge = 105", "runs[1].start-charge is 105; it must lie between 0 and 100")]
    [InlineData("meter = \"bench\"", "meter = \"bank\"", "which is no meter of this study; known are bench, plug")]
    [InlineData("usb = { file = \"c1.csv\", meter = \"bench\" }", "usb = { file = \"c1.csv\", meter = \"plug\" }",
        "uses the meter \"plug\", whose point is \"wall\"")]
    [InlineData("method = \"cable\"", "", "has no \"method\"; add it, for example method = \"cable\"")]
    [InlineData("currency = \"EUR\"", "", "has a price and no currency")]
    [InlineData("title = \"Two ways\"", "title = \"Two ways", "this is not valid TOML")]
    [InlineData("reference = \"cable\"", "title = \"again\"", "this is not valid TOML")]
    public void What_no_study_can_say_is_refused_with_its_line_and_a_remedy(string written, string instead, string expected)
    {
        int at = Whole.IndexOf(written, StringComparison.Ordinal);
        string text = Whole[..at] + instead + Whole[(at + written.Length)..];
        var e = Assert.Throws<InputException>(() => StudyReader.Read("study.toml", text, "here"));
        Assert.Equal(InputProblem.Unusable, e.Problem);
        Assert.StartsWith("study.toml, line ", e.Message, StringComparison.Ordinal);
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Runs_may_be_listed_on_both_sides_of_another_table()
    {
        string text =
            Whole.Replace("[[standby]]", "[[runs]]\nmethod = \"pad\"\nlogs = { usb = \"p2.csv\" }\n\n[[standby]]", StringComparison.Ordinal)
            + "\n[[runs]]\nmethod = \"pad\"\nlogs = { usb = \"p3.csv\" }\n";
        Assert.Equal(["cable-1", "pad-1", "pad-2", "pad-3"], StudyReader.Read("study.toml", text, "here").Runs.Select(r => r.Id));
    }

    [Fact]
    public void A_missing_study_file_is_told_as_missing()
    {
        var e = Assert.Throws<InputException>(() => StudyReader.Load("no-such-study.toml"));
        Assert.Equal(InputProblem.Missing, e.Problem);
    }

    [Fact]
    public void Without_a_price_there_is_no_tariff() =>
        Assert.Null(StudyReader.Read("s", Whole.Replace("price = 0.31", "", StringComparison.Ordinal), "here").Tariff);
}
