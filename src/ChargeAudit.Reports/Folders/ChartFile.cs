using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Html;

namespace ChargeAudit.Reports.Folders;

/// <summary>Writes one chart as a file of its own.</summary>
public static class ChartFile
{
    /// <summary>Refuses a name that is neither a PNG's nor an SVG's, before any work is done.</summary>
    /// <param name="path">Where the chart is to go.</param>
    /// <exception cref="InputException">Its ending says neither (<see cref="InputProblem.Usage"/>).</exception>
    public static void Check(string path)
    {
        if (!IsSvg(path) && !path.EndsWith(".png", StringComparison.OrdinalIgnoreCase))
        {
            throw new InputException(InputProblem.Usage,
                $"the chart's file is \"{path}\"; a name that ends in .png or .svg was expected, such as coils.svg")
            {
                Remedy = Remedy.Chart,
            };
        }
    }

    /// <summary>Writes beside the place and renames; PNG or SVG by the name's ending.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="path">Where it is to stand.</param>
    /// <exception cref="InputException">The ending is neither, or the file cannot be written.</exception>
    public static void Write(Chart chart, string path)
    {
        ArgumentNullException.ThrowIfNull(chart);
        Check(path);
        AtomicFile.Write(path, IsSvg(path)
            ? Encoding.UTF8.GetBytes(SvgText.File(chart, HtmlPage.FontFace()))
            : chart.Png.Span, Remedy.Chart);
    }

    private static bool IsSvg(string path) => path.EndsWith(".svg", StringComparison.OrdinalIgnoreCase);
}
