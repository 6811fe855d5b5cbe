using ChargeAudit.Coils;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Folders;
using SkiaSharp;

namespace ChargeAudit.Tests.Reports.Charts;

public sealed class CoilsChartTests
{
    private static CoilReport Report(double loadOhm) => CoilReport.From(new CoilData
    {
        PrimaryH = 24e-6,
        SecondaryH = 12e-6,
        PrimaryQ = 100,
        SecondaryQ = 40,
        Coupling = 0.4,
        FrequencyHz = 127.7e3,
        LoadOhm = loadOhm,
    });

    [Fact]
    public void The_chart_shows_the_given_coupling_and_the_one_from_which_the_peak_is_split()
    {
        var report = Report(1);
        double split = CoilsChart.SplitFrom(report.Sweep!)!.Value;
        FrequencySweep At(double k) =>
            FrequencySweep.Over(CompensatedLink.SeriesSeries(report.Link! with { Coupling = k }, report.Sweep!.Circuit.PrimaryF,
            report.Sweep.Circuit.SecondaryF), 1, 64e3, 255e3);
        Assert.False(At(0.95 * split).IsSplit);
        Assert.True(At(1.05 * split).IsSplit);

        var chart = CoilsChart.Draw(report)!;
        Assert.Contains("k = 0.40 (given)", chart.FileSvg, StringComparison.Ordinal);
        Assert.Contains("(splits from here)", chart.FileSvg, StringComparison.Ordinal);
        Assert.Contains("peaks at 108.", chart.Alternative, StringComparison.Ordinal);
    }

    [Fact]
    public void The_picture_is_drawn_in_both_panels()
    {
        using var picture = SKBitmap.Decode(CoilsChart.Draw(Report(1))!.Png.Span);
        SKColor[] pixels = picture.Pixels;
        foreach (int from in (int[])[0, picture.Height / 2])
        {
            int colors = pixels.AsSpan(from * picture.Width, picture.Height / 2 * picture.Width).ToArray().Distinct().Count();
            Assert.True(colors > 50, $"{colors} colours from row {from} on");
        }
    }

    [Fact]
    public void Without_a_link_there_is_no_chart() =>
        Assert.Null(CoilsChart.Draw(CoilReport.From(new CoilData { PrimaryH = 1.1e-3, PrimaryF = 100e-9 })));

    [Fact]
    public void A_name_that_is_neither_png_nor_svg_is_wrong_usage() =>
        Assert.Equal(InputProblem.Usage, Assert.Throws<InputException>(() => ChartFile.Check("coils.pdf")).Problem);
}
