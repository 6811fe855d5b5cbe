using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public sealed class StudyYearTests : IDisposable
{
    private static readonly Method Cable = new("cable", MethodKind.Wired) { PurchasePrice = 12 };
    private static readonly Method Pad = new("pad", MethodKind.Inductive);

    private readonly string _folder = Directory.CreateTempSubdirectory("year-").FullName;

    private Study Study(Tariff? tariff = null, AdapterInfo? adapter = null, CarbonFactor? carbon = null) => new()
    {
        Title = "invented",
        Reference = "cable",
        Methods = [Cable, Pad],
        Runs = [],
        Folder = _folder,
        Use = new Use { HoursOnChargerPerCharge = 8 },
        Tariff = tariff,
        Adapter = adapter,
        Carbon = carbon,
    };

    private static PointResult Point(double wh, double fullW, double? waitW) => new(
        Figure.Of(Measured.Exact(wh, "Wh")),
        [wh],
        2.5 * 3600,
        Figure.Of(Measured.Exact(fullW, "W")),
        waitW is { } w ? Figure.Of(Measured.Exact(w, "W")) : Figure.None("nobody logged it waiting"));

    private static Dictionary<MeasuringPoint, PointResult> At(MeasuringPoint point, PointResult result) => new() { [point] = result };

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Measured_at_the_wall_nothing_is_assumed()
    {
        var year = StudyYear.Of(Study(new Tariff("EUR", 0.3), new AdapterInfo(85, 2, 0.05, 0.01)))
            .YearOf(Pad, At(MeasuringPoint.Wall, Point(18, 0.6, 0.25)));
        Assert.Equal(0.3 * 9.2345, year.Cost.Value!.Value, 1e-12);
        Assert.Null(year.Energy.Assumed);
    }

    [Fact]
    public void Only_usb_and_no_adapter_gives_no_year_and_says_what_to_give()
    {
        var year = StudyYear.Of(Study()).YearOf(Pad, At(MeasuringPoint.Usb, Point(16, 0.4, 0.1)));
        Assert.Contains("efficiency under [adapter]", year.Energy.WhyNot, StringComparison.Ordinal);
        Assert.Equal("no price was given", year.Cost.WhyNot);
    }

    [Fact]
    public void Only_usb_with_an_adapter_gives_a_marked_year()
    {
        var year = StudyYear.Of(Study(adapter: new AdapterInfo(80, 4, 0.05, 0.02)))
            .YearOf(Pad, At(MeasuringPoint.Usb, Point(16, 0.4, 0.1)));
        Assert.Equal(0.365 * 20, year.ByMode[0].Energy.Value!.Value, 1e-12);
        Assert.Contains("given and not measured", year.Energy.Assumed, StringComparison.Ordinal);
        Assert.True(year.Energy.Value!.StandardUncertainty > 0);
    }

    [Fact]
    public void A_fitted_adapter_serves_where_the_study_states_none()
    {
        var fitted = Adapter.Fitted(YearCases.With(0.8, "1", ("fit", 0.01)), Measured.Exact(0.05, "W"));
        var points = At(MeasuringPoint.Usb, Point(16, 0.4, 0.1));
        Assert.Contains("fitted", StudyYear.Of(Study()).YearOf(Pad, points, fitted).Energy.Assumed, StringComparison.Ordinal);
        Assert.Contains("given", StudyYear.Of(Study(adapter: new AdapterInfo(80, 4, 0.05, 0.02)))
            .YearOf(Pad, points, fitted).Energy.Assumed, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_wall_lacks_comes_from_the_usb_side_and_only_that_is_marked()
    {
        var points = At(MeasuringPoint.Wall, Point(20, 0.6, null));
        points[MeasuringPoint.Usb] = Point(16, 0.4, 0.1);
        var year = StudyYear.Of(Study(adapter: new AdapterInfo(80, 4, 0.05, 0.02))).YearOf(Pad, points);
        Assert.Null(year.ByMode.Single(m => m.Mode == Mode.Charge).Energy.Assumed);
        Assert.NotNull(year.ByMode.Single(m => m.Mode == Mode.NoLoad).Energy.Assumed);
    }

    [Fact]
    public void A_waiting_cable_takes_the_adapters_stated_no_load_power_and_a_pad_does_not()
    {
        var study = StudyYear.Of(Study(adapter: new AdapterInfo { NoLoadW = 0.05 }));
        var cable = study.YearOf(Cable, At(MeasuringPoint.Wall, Point(12, 0.1, null)));
        Assert.Equal(0.05 * 5.84, cable.ByMode.Single(m => m.Mode == Mode.NoLoad).Energy.Value!.Value, 1e-12);
        Assert.Contains("power with nothing connected that was given", cable.Energy.Assumed, StringComparison.Ordinal);
        Assert.Null(study.YearOf(Pad, At(MeasuringPoint.Wall, Point(18, 0.6, null))).Energy.Value);
    }

    [Fact]
    public void Prices_and_emissions_by_the_hour_are_read_from_the_studys_folder()
    {
        var rows = Enumerable.Range(0, 168)
            .Select(h => InvariantText.Of($"2026-01-{5 + (h / 24):00}T{h % 24:00}:00Z,{(h % 24 is >= 22 or < 6 ? 100 : 300)}"));
        File.WriteAllLines(Path.Combine(_folder, "hours.csv"), rows.Prepend("time,value"));
        var study =
            StudyYear.Of(Study(new Tariff("EUR") { Hourly = new PriceFile("hours.csv", PriceUnit.PerMwh) },
            carbon: new CarbonFactor(null, new PriceFile("hours.csv"))));
        var year = study.YearOf(Pad, At(MeasuringPoint.Wall, Point(18, 0.6, 0.25)));
        double expected = (0.1 * (6.57 + 1.2045)) + (0.3 * 1.46);
        Assert.Equal(expected, year.Cost.Value!.Value, 1e-12);
        Assert.Equal(expected, year.Detail!.Co2.Value!.Value, 1e-12);
        Assert.Throws<InputException>(() => StudyYear.Of(Study(new Tariff("EUR") { Hourly = new PriceFile("none.csv") })));
    }

    [Fact]
    public void A_method_with_a_price_is_set_against_every_other_one()
    {
        var study = StudyYear.Of(Study(new Tariff("EUR", 0.3)));
        var cable = study.YearOf(Cable, At(MeasuringPoint.Wall, Point(12, 0.1, 0.03)));
        var pad = study.YearOf(Pad, At(MeasuringPoint.Wall, Point(18, 0.6, 0.25)));
        var payback = Assert.Single(StudyYear.Paybacks([(Cable, cable), (Pad, pad)]));
        Assert.Equal(("pad", "cable"), (payback.Now, payback.Bought));
        Assert.Equal(12 / (pad.Cost.Value!.Value - cable.Cost.Value!.Value), payback.Years.Value!.Value, 1e-9);
    }

    [Fact]
    public void Numbers_of_a_methods_own_that_cannot_be_are_refused_before_anything_is_read()
    {
        var study = Study() with { Methods = [Cable with { Use = new UseOverride(ChargeSharePercent: 0) }] };
        Assert.Contains("charge-share is 0", Assert.Throws<InputException>(() => StudyYear.Of(study)).Message, StringComparison.Ordinal);
        var adapter = Study() with { Methods = [Pad with { Adapter = new AdapterInfo(0) }] };
        Assert.Contains("efficiency is 0", Assert.Throws<InputException>(() => StudyYear.Of(adapter)).Message, StringComparison.Ordinal);
    }
}
