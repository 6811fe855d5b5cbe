using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Tests.Studies;

public class YearKeysTests
{
    private static readonly DayOfWeek[] Workdays = [DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday,
        DayOfWeek.Friday];

    private static TomlTableReader Table(string text) => new("study.toml", "", TomlNode.Parse("study.toml", text));

    [Fact]
    public void Every_key_of_use_reaches_its_place()
    {
        var use = UseReader.Use(Table(
            """
            charges-per-week = 6
            charges-per-week-range = [5, 9]
            charge-share = 60
            hours-on-charger-per-charge = 8
            plugged-in-all-day = false
            devices = 2
            charging-start = "21:30"
            charging-days = ["workdays", "sun"]
            year-hours = 8766
            """));
        Assert.Equal((6, 60, 8, false, 2),
            (use.ChargesPerWeek, use.ChargeSharePercent, use.HoursOnChargerPerCharge, use.PluggedInAllDay, use.Devices));
        Assert.Equal(new NumberRange(5, 9), use.ChargesPerWeekRange);
        Assert.Equal(new TimeOnly(21, 30), use.ChargingStart);
        Assert.Equal([.. Workdays, DayOfWeek.Sunday], use.ChargingDays);
        Assert.Equal(YearLength.Julian, use.Year);
        Assert.Contains("devices", use.Given);
    }

    [Fact]
    public void A_method_overrides_only_what_it_names()
    {
        var use = UseReader.Override(Table("devices = 3\ncharging-start = \"07:00\"\n"));
        Assert.Null(use.ChargesPerWeek);
        Assert.Null(use.ChargingDays);
        Assert.Equal((3, new TimeOnly(7, 0)), (use.Devices, use.ChargingStart));
    }

    [Fact]
    public void Every_key_of_a_tariff_reaches_its_place()
    {
        var tariff = UseReader.Tariff(Table(
            """
            currency = "EUR"
            price = 0.30
            price-within = 10
            surcharge = 0.05
            tax = 23
            fixed-per-month = 9.8
            timezone = "Europe/Lisbon"
            calendar-year = 2026
            holidays = ["2026-01-01"]
            [[period]]
            days = ["workdays"]
            from = "08:00"
            to = "24:00"
            season-from = "11-01"
            season-to = "02-29"
            price = -0.01
            [[tier]]
            up-to-kwh = 100
            price = 0.1
            [[tier]]
            price = 0.2
            """))!;
        Assert.Equal(("EUR", 0.30, 10, 0.05, 23, 9.8),
            (tariff.Currency, tariff.PricePerKwh, tariff.PriceWithinPercent, tariff.SurchargePerKwh, tariff.TaxPercent,
            tariff.FixedPerMonth));
        Assert.Equal(("Europe/Lisbon", 2026), (tariff.TimeZone, tariff.CalendarYear));
        Assert.Equal([new DateOnly(2026, 1, 1)], tariff.Holidays);
        var period = Assert.Single(tariff.Periods);
        Assert.Equal((new TimeOnly(8, 0), TimeOnly.MinValue, -0.01), (period.From, period.To, period.PricePerKwh));
        Assert.Equal((new MonthDay(11, 1), new MonthDay(2, 29)), (period.SeasonFrom, period.SeasonTo));
        Assert.Equal(Workdays, period.Days);
        Assert.Equal([new TariffTier(100, 0.1), new TariffTier(null, 0.2)], tariff.Tiers);
    }

    [Fact]
    public void Hourly_prices_household_adapter_and_emissions_are_read()
    {
        var tariff = UseReader.Tariff(Table("currency = \"EUR\"\nhourly = \"prices.csv\"\nhourly-unit = \"per-mwh\"\n"))!;
        Assert.Equal(new PriceFile("prices.csv", PriceUnit.PerMwh), tariff.Hourly);
        Assert.Null(tariff.PricePerKwh);

        var document = Table(
            """
            [household]
            kwh-per-month = 250
            [adapter]
            efficiency = 86
            efficiency-within = 3
            no-load = "50 mW"
            no-load-within = "0.02 W"
            output = "20 W"
            kind = "ac-dc"
            [co2]
            grams-per-kwh = 230
            within = 15
            """);
        var study = SurroundingsReader.Into(new Study { Title = "t", Reference = "a", Methods = [], Runs = [], Folder = "." }, document);
        document.Finish();
        Assert.Equal([250], study.Household!.KwhPerMonth);
        Assert.Equal(new AdapterInfo(86, 3, 0.05, 0.02) { OutputW = 20, Kind = SupplyKind.AcDc }, study.Adapter);
        Assert.Equal(new CarbonFactor(230, null, 15), study.Carbon);
    }

    [Fact]
    public void What_a_method_says_of_its_charger_is_read()
    {
        var table = Table("purchase-price = 29.9\nplacement = \"fixed\"\nwet-environment = true\n[adapter]\nefficiency = 80\n");
        var method = SurroundingsReader.Into(new Method("stand", MethodKind.Inductive), table);
        table.Finish();
        Assert.Equal((29.9, PadPlacement.FixedLocation, true, 80),
            (method.PurchasePrice, method.Placement, method.WetEnvironment, method.Adapter!.EfficiencyPercent));
        Assert.Equal(ChargerCoupling.InductiveWet, method.Coupling);
        Assert.Equal(3.85, SurroundingsReader.Into(new DeviceInfo(), Table("battery-voltage = 3.85")).BatteryV);
    }

    [Fact]
    public void A_study_file_holds_them_all()
    {
        var study = StudyReader.Read(
            "study.toml",
            """
            reference = "cable"
            [device]
            battery-discharge = "14.9 Wh"
            battery-voltage = 3.85
            [methods.cable]
            kind = "wired"
            purchase-price = 9.5
            [methods.pad]
            kind = "inductive"
            placement = "open"
            [methods.pad.adapter]
            efficiency = 80
            [methods.pad.use]
            devices = 2
            [[runs]]
            method = "cable"
            logs = { usb = "a.csv" }
            [use]
            charging-start = "23:15"
            [tariff]
            currency = "EUR"
            timezone = "Europe/Lisbon"
            price = 0.15
            [[tariff.period]]
            days = "workdays"
            from = "08:00"
            to = "22:00"
            price = 0.41
            [[tariff.tier]]
            price = 0.02
            [household]
            kwh-per-month = [250, 250, 200, 200, 200, 180, 180, 180, 200, 200, 250, 250]
            [adapter]
            no-load = "0.05 W"
            [co2]
            hourly = "grams.csv"
            """,
            "here");
        Assert.Equal((14.9, 3.85), (study.Device.BatteryDischargeWh, study.Device.BatteryV));
        Assert.Equal((9.5, 80, 2),
            (study.Methods[0].PurchasePrice, study.Methods[1].Adapter!.EfficiencyPercent, study.Methods[1].Use!.Devices));
        Assert.Equal(PadPlacement.OpenPlacement, study.Methods[1].Placement);
        Assert.Equal((12, 1, 1), (study.Household!.KwhPerMonth.Count, study.Tariff!.Periods.Count, study.Tariff.Tiers.Count));
        Assert.Equal((0.05, "grams.csv"), (study.Adapter!.NoLoadW, study.Carbon!.Hourly!.File));
    }

    [Theory]
    [InlineData("charging-days = [\"monday\"]", "holds \"monday\"; days are mon, tue")]
    [InlineData("charging-start = \"25:00\"", "a time of day such as")]
    [InlineData("charges-per-week-range = [9, 5]", "the lower one first")]
    [InlineData("charges-per-week-range = \"5 to 9\"", "a number, or a list of numbers")]
    [InlineData("year-hours = 8000", "must be 8760")]
    [InlineData("devices = 1.5", "a whole number")]
    [InlineData("charge-per-week = 5", "did you mean \"charges-per-week\"?")]
    public void A_wrong_value_of_use_is_refused_with_its_line(string text, string says)
    {
        var error = Assert.Throws<InputException>(() => UseReader.Use(Table(text)));
        Assert.StartsWith("study.toml, line 1: ", error.Message, StringComparison.Ordinal);
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("currency = \"EUR\"\n[[period]]\nfrom = \"08:00\"\n", "has no price")]
    [InlineData("currency = \"EUR\"\n[[period]]\nprice = 1\nseason-from = \"13-01\"\n", "a month and a day")]
    [InlineData("currency = \"EUR\"\nprice = 1\nholidays = [\"1 January\"]\n", "dates such as")]
    [InlineData("currency = \"EUR\"\nprice = 1\nhourly-unit = \"per-mwh\"\n", "and no file")]
    [InlineData("[[tier]]\nprice = 1\n", "no currency")]
    public void A_wrong_value_of_a_tariff_is_refused(string text, string says) =>
        Assert.Contains(says, Assert.Throws<InputException>(() => UseReader.Tariff(Table(text))).Message, StringComparison.Ordinal);
}
