using System.Xml.Linq;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Tables;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Csv;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Tests.Comparing.Placement;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Reports;

/// <summary>What the place changes, in every form of the report.</summary>
public sealed class PlacementReportTests
{
    private static readonly Lazy<AuditResult> Two = new(() => With(
        new PlacedRuns("cable").At(PlacedRuns.Cross, (x, y) => 9 + (0.02 * ((x * x) + (y * y))), outWh: 6),
        new PlacedRuns("pad")
            .At([.. PlacedRuns.Cross, .. PlacedRuns.Cross], (x, y) => 10 + (0.01 * ((x * x) + (y * y))), () => 0.001, outWh: 6)));

    private static readonly Lazy<IReadOnlyList<Chart>> Charts = new(() => ChartSet.Of(Two.Value));

    [Fact]
    public void Without_factors_no_form_of_the_report_speaks_of_placement()
    {
        var plain = new ReportFixture { SamplesPerLog = 60, IntervalS = 120 }.Build();
        var charts = ChartSet.Of(plain, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(charts, c => c.Key.StartsWith("placement", StringComparison.Ordinal)
            || c.Key.StartsWith("response", StringComparison.Ordinal));
        foreach (string text in new[] { HtmlPage.Of(plain, charts), MarkdownReport.Of(plain, charts), ResultsJson.Audit(plain) })
        {
            Assert.DoesNotContain("Where the device lies", text, StringComparison.Ordinal);
            Assert.DoesNotContain("\"placement\"", text, StringComparison.Ordinal);
            Assert.DoesNotContain("\"factors\"", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_page_has_map_curves_tolerances_and_models_of_both_designs()
    {
        string page = MarkdownReport.Of(Two.Value, Charts.Value);
        foreach (string mentions in new[]
        {
            "## Where the device lies", "charts/placement-map.svg", "charts/placement-tolerance.svg", "charts/response-offset-x.svg",
                "5 % more at", "Measured positions: pad",
            "pad less cable", "Linear model of cable", "Degrees of freedom: 5", "square of the distance from the middle",
                "By shared measurement",
        })
        {
            Assert.Contains(mentions, page, StringComparison.Ordinal);
        }

        Assert.Contains("id=\"placement\"", HtmlPage.Of(Two.Value, Charts.Value), StringComparison.Ordinal);
    }

    [Fact]
    public void The_map_names_every_measured_value_in_picture_and_words()
    {
        var map = Charts.Value.Single(c => c.Key == "placement-map");
        string[] texts = [.. XElement.Parse(map.WideSvg).Descendants().Where(e => e.Name.LocalName == "text").Select(e => e.Value)];

        // 6 of 9 Wh, in the middle of the first; 6 of 10.16 Wh, 4 mm off, of the second.
        Assert.Contains("66.7", texts);
        Assert.Contains("59.0", texts);
        Assert.Contains("efficiency [%]", texts);
        Assert.Equal(2, texts.Count(t => t == "offset x [mm]"));
        Assert.Contains("at (-8, 0) mm", map.Alternative, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_painted_outside_the_hull_and_the_colours_go_from_pale_to_dark()
    {
        var one = With(new PlacedRuns("pad").At(PlacedRuns.Cross, (x, y) => 10 + (0.05 * ((x * x) + (y * y))), outWh: 6));
        using var picture = SkiaSharp.SKBitmap.Decode(ChartSet.Of(one, TestContext.Current.CancellationToken)
            .Single(c => c.Key == "placement-map").Png.ToArray());
        var colors = Enumerable.Range(0, picture.Height)
            .SelectMany(y => Enumerable.Range(0, picture.Width), (y, x) => picture.GetPixel(x, y)).ToList();
        var dark = new MapColors(lowIsGood: false).GetColor(0.02);
        var pale = new MapColors(lowIsGood: false).GetColor(0.98);
        Assert.Contains(colors, c => Near(c, dark));
        Assert.Contains(colors, c => Near(c, pale));

        double[] lightness = [.. Enumerable.Range(0, 21).Select(i => new MapColors(lowIsGood: true).GetColor(i / 20.0))
            .Select(c => (0.2126 * c.R) + (0.7152 * c.G) + (0.0722 * c.B))];
        Assert.True(lightness.Zip(lightness.Skip(1)).All(p => p.First > p.Second));
    }

    [Fact]
    public void The_document_fits_the_schema_and_holds_positions_tolerance_and_model()
    {
        string text = ResultsJson.Audit(Two.Value);
        Assert.Empty(ResultsSchema.Problems(text));
        var placement = System.Text.Json.JsonDocument.Parse(text).RootElement.GetProperty("placement");
        var pad = placement.GetProperty("methods")[1];
        Assert.Equal("efficiency", pad.GetProperty("figure").GetString());
        Assert.Equal(9, pad.GetProperty("positions").GetArrayLength());
        Assert.Equal(Math.Sqrt(50), pad.GetProperty("tolerance").GetProperty("offsetMm").GetDouble(), 1e-6);
        Assert.Equal(4, pad.GetProperty("model").GetProperty("terms").GetArrayLength());
        Assert.Equal(9, placement.GetProperty("differences")[0].GetProperty("positions").GetArrayLength());
    }

    [Fact]
    public void The_table_has_a_row_for_each_position_and_each_level()
    {
        string[] lines = TableCsv.Text(PlacementTable.Of(Two.Value.Placement!)).TrimEnd().Split('\n');
        Assert.StartsWith("method,row,offset_x_mm,offset_y_mm,factor,level,level_unit,runs,", lines[0], StringComparison.Ordinal);
        Assert.Equal(2 * 9, lines.Count(l => l.Contains(",position,", StringComparison.Ordinal)));
        Assert.Equal(2 * (5 + 5), lines.Skip(1).Count(l => l.Contains(",level,", StringComparison.Ordinal)));
        Assert.Contains(lines, l => l.StartsWith("pad,position,-8,0,,,,2,pad-7 pad-16,efficiency,usb,device,", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void Charts_and_text_are_the_same_under_every_culture(string culture)
    {
        string[] Make() =>
            [.. ChartSet.Of(Two.Value, TestContext.Current.CancellationToken)
            .Where(c => c.Key.StartsWith("placement", StringComparison.Ordinal) || c.Key.StartsWith("response", StringComparison.Ordinal))
            .SelectMany(c => new[] { c.WideSvg, c.NarrowSvg, c.Alternative })];
        Assert.Equal(Make(), Golden.Under(culture, Make));
    }

    [Fact]
    public void A_method_without_a_map_gives_a_sentence()
    {
        var line = With(new PlacedRuns("pad").At([(0, 0), (2, 0), (4, 0), (6, 0)], (x, _) => 10 + (0.01 * x * x)));
        var charts = ChartSet.Of(line, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(charts, c => c.Key == "placement-map");
        string page = MarkdownReport.Of(line, charts);
        Assert.Contains("all positions lie on one line", page, StringComparison.Ordinal);
        Assert.Contains("only the input was measured", page, StringComparison.Ordinal);
        Assert.Empty(ResultsSchema.Problems(ResultsJson.Audit(line)));
    }

    private static AuditResult With(params PlacedRuns[] methods) => new ReportFixture { SamplesPerLog = 60, IntervalS = 120 }.Build() with
    {
        Placement = PlacedRuns.Find(0.05, methods),
    };

    private static bool Near(SkiaSharp.SKColor a, ScottPlot.Color b) =>
        Math.Abs(a.Red - b.R) + Math.Abs(a.Green - b.G) + Math.Abs(a.Blue - b.B) < 12;
}
