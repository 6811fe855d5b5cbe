using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>A log of a million rows becomes a small page in which a spike and a dip of one row each are still there.</summary>
public sealed partial class LongLogReportTests : IDisposable
{
    private const int Rows = 1_000_000;
    private const int SpikeRow = 345_678;
    private const int DipRow = 567_891;
    private const double SpikeW = 5 * 8.765;
    private const double DipW = 5 * 0.321;

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Both_extremes_are_in_the_numbers_and_in_the_drawing_and_the_page_stays_small()
    {
        string pad = Log("pad.csv", "1.500", extremes: true);
        string cable = Log("cable.csv", "1.000", extremes: false);
        var run = await InProcess.With(InProcess.World, "audit", "--wired", cable, "--inductive", pad, "--point", "usb", "--out",
            Path.Combine(_folder.Path, "report"));
        Assert.True(run.Status == 0, run.Error);
        string page =
            await File.ReadAllTextAsync(Path.Combine(_folder.Path, "report", "report.html"), TestContext.Current.CancellationToken);
        Assert.InRange(page.Length, 200_000, 1_500_000);

        var numbers = JsonDocument.Parse(PowerData().Match(page).Groups["data"].Value).RootElement;
        var series = numbers.GetProperty("series").EnumerateArray().Single(s => s.GetProperty("name").GetString() == "pad");
        var greatest = Numbers(series, "greatest");
        var least = Numbers(series, "least");
        Assert.Equal(SpikeW, greatest.Max(), 0.001 * SpikeW);
        Assert.InRange(At(numbers, greatest.IndexOf(greatest.Max())), SpikeRow - 1500, SpikeRow + 1500);
        int dip = (int)((DipRow - numbers.GetProperty("from").GetDouble()) / numbers.GetProperty("step").GetDouble());
        Assert.Equal(DipW, least[(dip - 1)..(dip + 2)].Min(), 0.001 * DipW);

        // In the drawing the axis reaches up to the spike, and the band between least and greatest reading has both as corners.
        string drawing = await File.ReadAllTextAsync(Path.Combine(_folder.Path, "report", "charts", "power-usb.svg"),
            TestContext.Current.CancellationToken);
        Assert.Contains("highest reading 43.8\u00a0W", page, StringComparison.Ordinal);
        string band = Band().Matches(drawing).Select(m => m.Groups["d"].Value).MaxBy(d => d.Length)!;
        var heights = Corners().Matches(band).Select(m => double.Parse(m.Groups["y"].Value, CultureInfo.InvariantCulture)).ToList();
        Assert.True(heights.Count > 100);
        double scale = PixelsPerWatt(drawing);
        Assert.True(heights.Max() - heights.Min() > (SpikeW - DipW) * scale * 0.98, "the drawing leaves out an extreme");
    }

    private static double At(JsonElement numbers, int cell) =>
        numbers.GetProperty("from").GetDouble() + ((cell + 0.5) * numbers.GetProperty("step").GetDouble());

    private static List<double> Numbers(JsonElement series, string name) =>
        [.. series.GetProperty(name).EnumerateArray().Select(v => v.ValueKind == JsonValueKind.Number ? v.GetDouble() : double.NaN)];

    // Two marks of the power axis and where they stand give the scale.
    private static double PixelsPerWatt(string drawing)
    {
        var marks = Marks().Matches(drawing).Select(m => (Y: Number(m, "y"), Watts: Number(m, "w")))
            .Where(m => m.Watts is 10 or 20 or 30 or 40).DistinctBy(m => m.Watts).OrderBy(m => m.Watts).ToList();
        Assert.True(marks.Count >= 2, $"{marks.Count} marks at the power axis");
        return (marks[0].Y - marks[^1].Y) / (marks[^1].Watts - marks[0].Watts);

        static double Number(Match match, string group) => double.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);
    }

    private string Log(string name, string current, bool extremes)
    {
        string path = Path.Combine(_folder.Path, name);
        using var log = new StreamWriter(path);
        log.Write("Elapsed (s),U (V),I (A)\n");
        for (int i = 0; i < Rows; i++)
        {
            string amperes = extremes && i == SpikeRow ? "8.765" : extremes && i == DipRow ? "0.321" : i > 0.9 * Rows ? "0.010" : current;
            log.Write(InvariantText.Of($"{i},5.000,{amperes}\n"));
        }

        return path;
    }

    [GeneratedRegex(@"<script type=""application/json"" data-chart=""power-usb"">(?<data>.*?)</script>", RegexOptions.Singleline)]
    private static partial Regex PowerData();

    [GeneratedRegex(@"<path fill=""#D55E00"" fill-opacity=""0\.2\d*"" d=""(?<d>[^""]+)""")]
    private static partial Regex Band();

    [GeneratedRegex(@"[ML ](?<x>\d+(?:\.\d+)?)[ ,](?<y>\d+(?:\.\d+)?)")]
    private static partial Regex Corners();

    [GeneratedRegex(@"<text[^>]*translate\([\d.]+ (?<y>[\d.]+)\)[^>]*>\s*(?<w>\d+)\s*</text>")]
    private static partial Regex Marks();
}
