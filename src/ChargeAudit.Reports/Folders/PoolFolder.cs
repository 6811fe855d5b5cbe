using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Csv;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Reports.Model.Sections;

namespace ChargeAudit.Reports.Folders;

/// <summary>Everything that a pool leaves behind, as files in one folder.</summary>
public static class PoolFolder
{
    /// <summary>Writes <c>pooled.html</c>, <c>pooled.json</c>, <c>pooled.csv</c>, <c>pooled.parquet</c>, <c>pooled.md</c> and the charts as
    /// a whole new folder (see <see cref="ResultFolder"/>).</summary>
    /// <param name="pool">The pool.</param>
    /// <param name="folder">The folder; made where it is not there.</param>
    /// <param name="version">The program's version.</param>
    /// <param name="overwrite">Whether files of those names that are not ours may be replaced.</param>
    /// <param name="cancellation">Stops as long as the old files stand.</param>
    /// <returns>Paths of the files, the page first.</returns>
    /// <exception cref="InputException">A file cannot be written (<see cref="InputProblem.CannotWrite"/>).</exception>
    public static IReadOnlyList<string> Write(
        PoolResult pool, string folder, string version, bool overwrite = false, CancellationToken cancellation = default)
    {
        var charts = PoolCharts.Of(pool);
        var document = PoolSections.Of(pool, charts);
        var table = PoolTable.Of(pool);
        List<(string Name, byte[] Bytes)> files =
        [
            ("pooled.html", Encoding.UTF8.GetBytes(HtmlPage.Of(document, charts, "Many audits as one answer", version))),
            ("pooled.json", Encoding.UTF8.GetBytes(PooledJson.Of(pool))),
            ("pooled.csv", Encoding.UTF8.GetBytes(TableCsv.Text(table))),
            ("pooled.parquet", ParquetTable.Of(table)),
            ("pooled.md", Encoding.UTF8.GetBytes(MarkdownReport.Of(document, charts))),
        ];
        foreach (var chart in charts)
        {
            files.Add(($"charts/{chart.Key}.svg", Encoding.UTF8.GetBytes(SvgText.File(chart, HtmlPage.FontFace()))));
            files.Add(($"charts/{chart.Key}.png", chart.Png.ToArray()));
        }

        return ResultFolder.Write(files, folder, overwrite, cancellation: cancellation);
    }
}
