using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Tables;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Markdown;

namespace ChargeAudit.Reports.Folders;

/// <summary>Everything that an audit leaves behind, as files in one folder.</summary>
public static class ReportFolder
{
    /// <summary>
    /// Writes <c>report.html</c>, <c>report.md</c>, <c>results.json</c>, <c>sessions.csv</c>, <c>placement.csv</c> where runs carry
    /// factors, the further tables that are asked for, and the charts as <c>charts/NAME.svg</c> and <c>.png</c>. A whole new folder takes
    /// the place of the old one (see <see cref="ResultFolder"/>): no reader ever meets half a report or a mix of two, charts of an earlier
    /// study are removed, and files that are not ours stay.
    /// </summary>
    /// <param name="result">The results.</param>
    /// <param name="folder">The folder; made where it is not there.</param>
    /// <param name="overwrite">Whether files of those names that are not ours may be replaced.</param>
    /// <param name="tables">In which formats the tables are written besides: <c>sessions</c> and <c>placement</c> as
    /// above, <c>results</c> (<see cref="FigureTable"/>), <c>modes</c> and <c>envelope</c> (<see cref="LogTables"/>).</param>
    /// <param name="more">Further files that belong to the report, by their names in the folder.</param>
    /// <param name="cancellation">Stops drawing and writing as long as the old files stand; nothing is left behind then.</param>
    /// <returns>Paths of the files, the page first.</returns>
    /// <exception cref="InputException">A file cannot be written (<see cref="InputProblem.CannotWrite"/>).</exception>
    public static IReadOnlyList<string> Write(
        AuditResult result, string folder, bool overwrite = false, IReadOnlyList<TableFormat>? tables = null,
            IReadOnlyList<(string Name, byte[] Bytes)>? more = null, CancellationToken cancellation = default)
    {
        var made = Task.Run(() => Tables(result, tables ?? []).ToList(), CancellationToken.None);
        var charts = ChartSet.Of(result, cancellation);
        string font = HtmlPage.FontFace();
        List<ResultFile> files =
        [
            ResultFile.OfText("report.html", to => HtmlPage.Write(result, charts, to)),
            new("results.json", to => ResultsJson.WriteAudit(result, to)),
            .. made.GetAwaiter().GetResult().Select(f => ResultFile.Of(f.Name, f.Bytes)),
            ResultFile.OfText("report.md", to => to.Write(MarkdownReport.Of(result, charts))),
        ];
        foreach (var chart in charts)
        {
            files.Add(ResultFile.OfText($"charts/{chart.Key}.svg", to => to.Write(SvgText.File(chart, font))));
            files.Add(new($"charts/{chart.Key}.png", to => to.Write(chart.Png.Span)));
        }

        files.AddRange((more ?? []).Select(f => ResultFile.Of(f.Name, f.Bytes)));
        return ResultFolder.Write(files, folder, overwrite, cancellation: cancellation);
    }

    // Sessions and placement are always there as text.
    private static IEnumerable<(string Name, byte[] Bytes)> Tables(AuditResult result, IReadOnlyList<TableFormat> formats)
    {
        TableFormat[] always = [TableFormat.Csv, .. formats];
        var files = TableFile.Of("sessions", SessionTable.Of(result), always);
        files = result.Placement is { } placement ? files.Concat(TableFile.Of("placement", PlacementTable.Of(placement), always)) : files;
        return formats.Count == 0 ? files : files
            .Concat(TableFile.Of("results", FigureTable.Of(result), formats))
            .Concat(TableFile.Of("modes", LogTables.Modes(result.Logs), formats))
            .Concat(TableFile.Of("envelope", LogTables.Envelope(result.Logs), formats));
    }
}
