using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Html;

namespace ChargeAudit.Reports.Folders;

/// <summary>The trend charts of a check as files.</summary>
public static class TrendFolder
{
    /// <summary>Draws each as <c>NAME.png</c> and <c>NAME.svg</c>.</summary>
    /// <param name="series">The figures over the history.</param>
    /// <param name="folder">The folder that they are to go into.</param>
    /// <returns>The charts with the places of their pictures, and names and contents of the files in that folder.</returns>
    public static (IReadOnlyList<WrittenTrend> Trends,
        IReadOnlyList<(string Name, byte[] Bytes)> Files) Draw(IReadOnlyList<DriftSeries> series, string folder)
    {
        ArgumentNullException.ThrowIfNull(series);
        var trends = new List<WrittenTrend>();
        var files = new List<(string Name, byte[] Bytes)>();
        foreach (var one in series)
        {
            var chart = TrendChart.Draw(one);
            files.Add(($"{chart.Key}.png", chart.Png.ToArray()));
            files.Add(($"{chart.Key}.svg", Encoding.UTF8.GetBytes(SvgText.File(chart, HtmlPage.FontFace()))));
            trends.Add(new WrittenTrend(chart, Path.Combine(folder, $"{chart.Key}.png")));
        }

        return (trends, files);
    }
}
