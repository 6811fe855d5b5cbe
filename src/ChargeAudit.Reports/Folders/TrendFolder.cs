using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Html;

namespace ChargeAudit.Reports.Folders;

/// <summary>Writes the trend charts of a check into a folder.</summary>
public static class TrendFolder
{
    /// <summary>Writes each as <c>NAME.png</c> and <c>NAME.svg</c>, beside its place and then renamed.</summary>
    /// <param name="series">The figures over the history.</param>
    /// <param name="folder">The folder; made where it is not there.</param>
    /// <exception cref="InputException">A file cannot be written (<see cref="InputProblem.CannotWrite"/>).</exception>
    public static IReadOnlyList<WrittenTrend> Write(IReadOnlyList<DriftSeries> series, string folder)
    {
        ArgumentNullException.ThrowIfNull(series);
        var written = new List<WrittenTrend>();
        foreach (var one in series)
        {
            var chart = TrendChart.Draw(one);
            string png = AtomicFile.Write(Path.Combine(folder, $"{chart.Key}.png"), chart.Png.ToArray(), Remedy.Trend);
            AtomicFile.Write(Path.Combine(folder, $"{chart.Key}.svg"), Encoding.UTF8.GetBytes(SvgText.File(chart, HtmlPage.FontFace())), Remedy.Trend);
            written.Add(new WrittenTrend(chart, png));
        }

        return written;
    }
}
