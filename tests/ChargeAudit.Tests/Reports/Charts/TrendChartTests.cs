using System.Xml.Linq;
using ChargeAudit.Checking;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Tests.Checking;

namespace ChargeAudit.Tests.Reports.Charts;

public sealed class TrendChartTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(40)]
    public void A_history_of_any_length_is_drawn(int entries)
    {
        var series =
            Assert.Single(Series([.. Enumerable.Range(0, entries).Select(i => HistoryFileTests.Entry($"{i}", 13 * (1 + (0.0005 * i))))]));
        Assert.Equal(entries + 1, series.Steps.Count);
        var chart = TrendChart.Draw(series);
        Assert.Equal("trend-pad-usb-energy-per-charge", chart.Key);
        Assert.Contains(entries == 1 ? "1 check" : $"{entries} checks", chart.Title, StringComparison.Ordinal);
        string[] texts = [.. XElement.Parse(chart.WideSvg).Descendants().Where(e => e.Name.LocalName == "text").Select(e => e.Value)];
        Assert.Contains("change-point score [1]", texts);
        Assert.Contains("control limits", texts);
        using var picture = SkiaSharp.SKBitmap.Decode(chart.Png.ToArray());
        Assert.True(picture.Pixels.Distinct().Count() > 50);
    }

    [Fact]
    public void The_series_ends_in_what_the_drift_test_found()
    {
        var entries = Enumerable.Range(0, 10)
            .Select(i => HistoryFileTests.Entry($"{i}", 13 * Math.Pow(1.004, i + 1), 13 * Math.Pow(1.004, i))).ToList();
        var series = Assert.Single(Series(entries));
        Assert.True(series.Finding.Alarm);
        Assert.Equal((series.Finding.Score, series.Finding.Limit), (series.Steps[^1].Score, series.Steps[^1].Limit));
        Assert.Equal(series.Finding.SinceFirst, series.Steps[^1].Ratio, 1e-12);
        Assert.EndsWith(": alarm.", TrendChart.Draw(series).Alternative, StringComparison.Ordinal);
    }

    // Five runs with a scatter of 0.5 % each in every entry; the first baseline and two more: 14 degrees of freedom after the second check
    // … 12 after three measurements, t = 2.1788 (table), so ±2.1788 · 0.5 %/√5; the limits of the second check: three times 0.5 % · √(1/5 +
    // 1/10).
    [Fact]
    public void Intervals_and_control_limits_are_those_of_the_scatter()
    {
        var series = Assert.Single(Series([HistoryFileTests.Entry("a", 13), HistoryFileTests.Entry("b", 13)]));
        var last = series.Steps[^1];
        Assert.Equal(Math.Exp(2.1788 * 0.005 / Math.Sqrt(5)), last.High, 1e-6);
        Assert.Equal(1 / last.High, last.Low, 1e-9);
        Assert.Equal(Math.Exp(3 * 0.005 * Math.Sqrt(0.3)), last.HighLimit!.Value, 1e-9);
        Assert.Null(series.Steps[0].HighLimit);
    }

    [Fact]
    public void A_candidate_that_failed_is_shown_and_does_not_count()
    {
        var series =
            Assert.Single(
                Series([HistoryFileTests.Entry("a", 13.01), HistoryFileTests.Entry("b", 13.6, verdict: CheckVerdict.Fail),
                HistoryFileTests.Entry("c", 13.0)]));
        Assert.Equal([true, true, false, true], series.Steps.Select(s => s.Counted));
        Assert.Equal(13.6 / 13, series.Steps[2].Ratio, 1e-12);
        Assert.Null(series.Steps[2].Score);
        Assert.Equal(3, series.Finding.Checks);
        Assert.Contains("2: +4.62 % (failed, not counted)", TrendChart.Draw(series).Alternative, StringComparison.Ordinal);
    }

    [Fact]
    public void Entries_of_other_points_figures_devices_and_meters_are_left_out()
    {
        var own = HistoryFileTests.Entry("a", 13);
        var figure = own.Figures[0];
        HistoryEntry Other(string hash, HistoryFigure f) => own with { CandidateSha256 = hash, Figures = [f] };
        var series = Assert.Single(Series([
            Other("b", figure with { Point = ChargeAudit.Logs.MeasuringPoint.Wall, Candidate = 99 }),
            Other("c", figure with { Figure = ChargeAudit.Studies.CheckedFigure.PeakPower, Candidate = 99 }),
            Other("d", figure with { Meters = ["plug"], Candidate = 99 }),
            own with { CandidateSha256 = "e", Device = "Q" },
            own]));
        Assert.Equal(2, series.Steps.Count);
    }

    [Fact]
    public void A_figure_of_single_runs_has_no_series()
    {
        var own = HistoryFileTests.Entry("a", 13);
        Assert.Empty(Series([own with
        {
            Figures = [own.Figures[0] with { CandidateRuns = 1, CandidateScatter = null, BaselineRuns = 1, BaselineScatter = null }],
        }]));
    }

    [Fact]
    public void The_page_for_a_build_shows_the_picture_by_a_path_from_where_it_stands()
    {
        var series = Assert.Single(Series([HistoryFileTests.Entry("a", 13)]));
        string folder = Path.Combine(Path.GetTempPath(), "build page");
        string page = CheckMarkdown.Of(
            Checker.Run(CheckCases.Design("new", [10, 10.1, 9.9]), CheckCases.Design("base", [10, 10.05, 9.95]),
                CheckCases.EnergyOnly(0.05)),
            [new WrittenTrend(TrendChart.Draw(series), Path.Combine(folder, "trend charts", "a.png"))], folder);
        Assert.Contains("## Trend\n", page, StringComparison.Ordinal);
        Assert.Contains("](trend%20charts/a.png)", page, StringComparison.Ordinal);
    }

    private static IReadOnlyList<DriftSeries> Series(IReadOnlyList<HistoryEntry> entries) => DriftTest.Series(entries, (_, _) => 0.02);
}
