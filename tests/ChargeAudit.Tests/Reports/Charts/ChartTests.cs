using System.Xml.Linq;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Charts;

namespace ChargeAudit.Tests.Reports.Charts;

public sealed class ChartTests
{
    private static readonly Lazy<IReadOnlyList<Chart>> Drawn =
        new(() => ChartSet.Of(new ReportFixture { SamplesPerLog = 200, IntervalS = 40 }.Build()));

    [Fact]
    public void All_charts_of_a_full_study_are_drawn_in_the_order_of_the_report() => Assert.Equal(
        ["power-wall", "power-usb", "cumulative-wall", "cumulative-usb", "energy-per-charge", "losses", "adapter", "stand-by", "year",
            "year-moves"],
        Drawn.Value.Select(c => c.Key));

    [Fact]
    public void Charts_have_text_in_the_shipped_font_alone()
    {
        foreach (string svg in Drawn.Value.SelectMany(c => new[] { c.WideSvg, c.NarrowSvg }))
        {
            var texts = XElement.Parse(svg).Descendants().Where(e => e.Name.LocalName == "text").ToList();
            Assert.True(texts.Count > 4);
            Assert.All(texts, t => Assert.Equal("ReportSans, sans-serif", (string?)t.Attribute("font-family")));
        }
    }

    [Fact]
    public void The_shipped_font_has_a_glyph_for_every_character_of_the_charts()
    {
        using var face = SkiaSharp.SKTypeface.FromFile(Golden.RepositoryFile("src", "ChargeAudit.Reports", "Fonts", "DejaVuSans.ttf"));
        var texts = Drawn.Value.SelectMany(c => XElement.Parse(c.WideSvg).Descendants().Where(e => e.Name.LocalName == "text"))
            .Select(t => t.Value);
        Assert.All(texts, t => Assert.DoesNotContain((ushort)0, face.GetGlyphs(t)));
    }

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void Labels_have_decimal_points_under_every_culture(string culture)
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120 }.Build();
        var texts = Golden.Under(culture, () => ChartSet.Of(result, TestContext.Current.CancellationToken))
            .SelectMany(c => Texts(c.WideSvg)).ToList();
        Assert.Contains("0.5", texts);
        Assert.DoesNotContain(texts, t => t.Contains(",5", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_drawings_of_one_chart_are_the_same()
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120 }.Build();
        Assert.Equal(ChartSet.Of(result, TestContext.Current.CancellationToken).Select(c => c.WideSvg),
            ChartSet.Of(result, TestContext.Current.CancellationToken).Select(c => c.WideSvg));
    }

    [Fact]
    public void Pictures_are_png_of_the_right_size() => Assert.All(Drawn.Value, c =>
    {
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], c.Png[..4].ToArray());
        using var picture = SkiaSharp.SKBitmap.Decode(c.Png.ToArray());
        Assert.Equal(860, picture.Width);
        Assert.True(picture.Pixels.Distinct().Count() > 20);
    });

    [Fact]
    public void One_high_reading_among_a_million_stays_in_the_curve()
    {
        var envelope = InventedLog.WithSpike(1_000_000, 99, 654_321).Envelope;
        var curves = PowerCurve.Of(envelope, 0, 0, 1_000_000, 400);
        var curve = Assert.Single(curves);
        Assert.InRange(curve.TimesS.Length, 200, 401);
        Assert.Equal(99, curve.GreatestW.Max());
        Assert.Equal(5, curve.LeastW.Min());
        Assert.InRange(curve.TimesS[Array.IndexOf(curve.GreatestW, 99)], 654_321 - 3000, 654_321 + 3000);
    }

    [Fact]
    public void A_hole_in_the_log_is_a_hole_in_the_curve()
    {
        var envelope = new ChargeAudit.Measuring.Integration.PowerEnvelope(0);
        foreach (int start in new[] { 0, 500 })
        {
            for (int i = start; i < start + 100; i++)
            {
                envelope.AddReading(i, 5);
                envelope.AddInterval(new(i, i + 1, 5, 5));
            }
        }

        Assert.Equal(2, PowerCurve.Of(envelope, 0, 0, 600, 120).Count);
    }

    [Fact]
    public void Energies_of_the_runs_are_drawn_as_points()
    {
        var few = Drawn.Value.Single(c => c.Key == "energy-per-charge");
        var more = ChartSet.Of(new ReportFixture { SamplesPerLog = 60, IntervalS = 120, Runs = 6 }.Build(),
            TestContext.Current.CancellationToken).Single(c => c.Key == "energy-per-charge");
        Assert.Equal(4 * 3, Circles(more) - Circles(few));
    }

    [Fact]
    public void Names_of_users_cannot_break_the_drawing()
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120, Pad = "<a>&\"]]>\u0001" }.Build();
        Assert.All(ChartSet.Of(result, TestContext.Current.CancellationToken),
            c => Assert.Equal("svg", XElement.Parse(c.WideSvg).Name.LocalName));
    }

    [Fact]
    public void Figures_that_are_no_number_or_zero_do_not_stop_the_drawing()
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120 }.Build();
        var nothing = Figure.Of(ChargeAudit.Metrology.Uncertainty.Measured.Exact(0, "Wh"));
        var noNumber = Figure.Of(ChargeAudit.Metrology.Uncertainty.Measured.Exact(double.NaN, "Wh"));
        var methods = result.Methods.Select((m, i) => m with
        {
            Points = m.Points.ToDictionary(p => p.Key, p => p.Value with
            {
                EnergyPerCharge = i == 0 ? nothing : noNumber,
                RunEnergiesWh = [0],
                MaintenancePower = noNumber,
            }),
            Yearly = new YearResult(noNumber, nothing, []),
        }).ToList();
        Assert.Contains(ChartSet.Of(result with { Methods = methods }, TestContext.Current.CancellationToken), c => c.Key
            == "energy-per-charge");
    }

    [Fact]
    public void Methods_of_a_study_have_colours_that_differ() =>
        Assert.Equal(6, Enumerable.Range(0, 6).Select(Palette.Hex).Distinct().Count());

    private static IEnumerable<string> Texts(string svg) =>
        XElement.Parse(svg).Descendants().Where(e => e.Name.LocalName == "text").Select(t => t.Value.Trim());

    private static int Circles(Chart chart) => XElement.Parse(chart.WideSvg).Descendants()
        .Count(e => e.Name.LocalName is "circle" or "ellipse" && (string?)e.Attribute("fill") == "white");
}
