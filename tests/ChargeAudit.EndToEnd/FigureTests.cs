using System.Buffers.Binary;

namespace ChargeAudit.EndToEnd;

/// <summary>Single charts as files of their own, and reports that reveal nothing of the machine that they were made on.</summary>
public sealed class FigureTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_chart_is_as_wide_as_fine_and_as_dark_as_it_is_asked_for()
    {
        string study = _folder.SampleLogs();
        var run = Run.In(
            _folder.Path, "audit", study, "--figure", "power-wall=power.svg", "--figure", "year=year.png", "--figure-width", "600",
            "--figure-scale", "2", "--figure-theme", "dark", "--price", "0.25", "--currency", "EUR");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Contains("power.svg, year.png", run.Output, StringComparison.Ordinal);
        string svg = File.ReadAllText(Path.Combine(_folder.Path, "power.svg"));
        Assert.Contains("viewBox=\"0 0 600 ", svg, StringComparison.Ordinal);
        Assert.Contains("#1D2425", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("#FBFBF8", svg, StringComparison.Ordinal);

        // Width of a PNG. *Source:* PNG (third edition), 11.2.1: four bytes, the most significant first, after the first 16.
        byte[] png = File.ReadAllBytes(Path.Combine(_folder.Path, "year.png"));
        Assert.Equal(1200, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)));

        // The report's own charts stay as they are.
        string own = File.ReadAllText(Path.Combine(_folder.Path, "chargeaudit-report", "charts", "power-wall.svg"));
        Assert.Contains("viewBox=\"0 0 860 ", own, StringComparison.Ordinal);
        Assert.Contains("#FBFBF8", own, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("did you mean power-wall?", "--figure", "pwer-wall=x.png")]
    [InlineData("a name that ends in .png or .svg was expected", "--figure", "power-wall=x.gif")]
    [InlineData("a chart's name and a file were expected", "--figure", "power-wall")]
    [InlineData("--figure-width goes with --figure", "--figure-width", "600")]
    [InlineData("whole pixels from 240 to 4000", "--figure", "power-wall=x.png", "--figure-width", "100")]
    [InlineData("a number from 0.5 to 8", "--figure", "power-wall=x.png", "--figure-scale", "90")]
    public void What_cannot_be_drawn_is_refused(string mentions, params string[] arguments)
    {
        var run = Run.In(_folder.Path, ["audit", _folder.SampleLogs(), .. arguments]);
        Assert.Equal(64, run.Status);
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder.Path, "x.*"));
    }

    [Fact]
    public void Nothing_that_is_published_tells_where_on_a_machine_files_lie()
    {
        string study = _folder.SampleLogs();
        string elsewhere = Directory.CreateDirectory(Path.Combine(_folder.Path, "elsewhere")).FullName;
        string report = Path.Combine(_folder.Path, "report");
        var run = Run.In(elsewhere, "audit", study, "--out", report);
        Assert.Equal((0, ""), (run.Status, run.Error));
        Told(report, "study.toml");
        string adHoc = Path.Combine(_folder.Path, "ad-hoc");
        run = Run.In(
            elsewhere, "audit", "--wired", Path.Combine(_folder.Path, "cable-1-wall.csv"), "--inductive",
            Path.Combine(_folder.Path, "pad-1-wall.csv"), "--point", "wall", $"--out={adHoc}");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Told(adHoc, "cable-1-wall.csv");

        void Told(string folder, string name)
        {
            foreach (string file in (string[])["report.html", "report.md", "results.json", "sessions.csv"])
            {
                string text = File.ReadAllText(Path.Combine(folder, file));
                Assert.DoesNotContain(_folder.Path, text, StringComparison.Ordinal);
                Assert.True(file == "sessions.csv" || text.Contains(name, StringComparison.Ordinal), file);
            }
        }
    }
}
