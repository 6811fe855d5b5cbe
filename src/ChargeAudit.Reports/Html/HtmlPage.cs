using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;
using System.Text.Unicode;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Model;
using ChargeAudit.Reports.Model.Sections;

namespace ChargeAudit.Reports.Html;

/// <summary>
/// The report as one page that needs nothing else: style, font and charts are inside it, and a content policy forbids any request.
/// It can be read without scripts, on a phone, on paper, in the dark, by keyboard and by screen reader.
/// </summary>
public static partial class HtmlPage
{
    private const string Kind = "Charging audit";
    private const int MostHeld = 1 << 16;
    private const string Number = @"-?[\d." + WrittenMarks.InPattern + "]+";

    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    // The one script that the page's policy lets run: the plotting library with its licence, then ours.
    private static readonly Lazy<string> Script = new(() =>
        "\n/*! uPlot "
            + $"1.6.32\n{Asset.Text("Html.Vendor.LICENSE-uPlot.txt")}*/\n{Asset.Text("Html.Vendor.uPlot.iife.min.js")}\n"
                + $"{Asset.Text("Html.page.js")}");

    /// <summary>The page.</summary>
    /// <param name="result">The results.</param>
    /// <param name="charts">Charts of the same results; null: they are drawn.</param>
    /// <param name="place">Where it will be read.</param>
    public static string Of(AuditResult result, IReadOnlyList<Chart>? charts = null, ReportPlace place = ReportPlace.Folder)
    {
        charts ??= ChartSet.Of(result);
        return Of(ReportBuilder.Build(result, charts, place), charts, Kind, result.Provenance.ProgramVersion);
    }

    /// <summary>Writes the page without ever holding it as a whole: that of an audit of thousands of logs has tens of megabytes.</summary>
    /// <param name="result">The results.</param>
    /// <param name="charts">Charts of the same results.</param>
    /// <param name="to">Takes it.</param>
    internal static void Write(AuditResult result, IReadOnlyList<Chart> charts, TextWriter to)
    {
        var html = new StringBuilder();
        Write(html, ReportBuilder.Build(result, charts), charts, Kind, result.Provenance.ProgramVersion, () =>
        {
            if (html.Length > MostHeld)
            {
                to.Write(html);
                html.Clear();
            }
        });
        to.Write(html);
    }

    /// <summary>The page of any report.</summary>
    /// <param name="document">The report.</param>
    /// <param name="charts">Its charts.</param>
    /// <param name="kind">What sort of report it is.</param>
    /// <param name="version">The program's version.</param>
    internal static string Of(ReportDocument document, IReadOnlyList<Chart> charts, string kind, string version)
    {
        var html = new StringBuilder(1 << 20);
        Write(html, document, charts, kind, version, static () => { });
        return html.ToString();
    }

    // Whoever takes the text piece by piece is told after each.
    private static void Write(StringBuilder html, ReportDocument document, IReadOnlyList<Chart> charts, string kind, string version,
        Action pieceEnds)
    {
        Head(html, document);
        html.Append("<body>\n<a class=\"skip\" href=\"#main\">Skip to the report</a>\n<header>\n<p class=\"kind\">").Append(Encode(kind))
            .Append("</p>\n");
        html.Append("<h1>").Append(Encode(document.Title)).Append("</h1>\n");
        html.Append("<p class=\"answer\">").Append(Encode(document.Answer)).Append("</p>\n");
        KeyFigures(html, document.Figures);
        foreach (string detail in document.Details)
        {
            html.Append("<p>").Append(Encode(detail)).Append("</p>\n");
        }

        html.Append("</header>\n<nav aria-label=\"Contents\">\n<ul>\n");
        foreach (var section in document.Sections)
        {
            html.Append("<li><a href=\"#").Append(section.Id).Append("\">").Append(Encode(section.Title)).Append("</a></li>\n");
        }

        html.Append("</ul>\n</nav>\n<main id=\"main\">\n");
        var byKey = charts.ToDictionary(c => c.Key);
        foreach (var section in document.Sections)
        {
            html.Append("<section id=\"").Append(section.Id).Append("\" aria-labelledby=\"").Append(section.Id)
                .Append("-title\">\n<h2 id=\"")
                .Append(section.Id).Append("-title\">").Append(Encode(section.Title)).Append("</h2>\n");
            foreach (var block in section.Blocks)
            {
                HtmlBlocks.Write(html, block, byKey, pieceEnds);
                pieceEnds();
            }

            html.Append("</section>\n");
        }

        html.Append("</main>\n<footer><p>Made with ChargeAudit ").Append(Encode(version))
            .Append(". This page holds everything it shows and asks nothing of any network.</p></footer>\n");
        if (charts.Any(c => c.Data is not null))
        {
            html.Append("<script>").Append(Script.Value).Append("</script>\n");
        }

        html.Append("</body>\n</html>\n");
    }

    /// <summary>The rule that brings the font along.</summary>
    internal static string FontFace() =>
        $"@font-face{{font-family:{ChartFont.Family};src:url(data:font/woff2;base64,"
            + $"{Convert.ToBase64String(Asset.Bytes("Fonts.ReportSans.woff2"))}) format(\"woff2\")}}";

    /// <summary>Text that cannot be taken for markup.</summary>
    internal static string Encode(string text) => Encoder
        .Encode(WrittenMarks.Shown(Breakable().Replace(VisibleText.Of(text, lines: true), "\u00a0")))
        .Replace("&#xA0;", "\u00a0", StringComparison.Ordinal);

    /// <summary>Spaces at which a line must not break: before a unit, inside an interval, a duration and a position.</summary>
    [GeneratedRegex(
        @"(?<=\d\)?) (?=(?:%|[kM]?Wh|m?W|m?V|m?Ah?|s|h|min|mm|[A-Z]{3})(?:$|[\s.,;:)]))|(?<=\(" + Number + ",) (?=" + Number + @"\) mm)"
        + @"|(?<=\(" + Number + ") (?=to )|(?<=\\(" + Number + @" to) (?=-?\d)|(?<=interval " + Number + ") (?=to )|(?<=interval " + Number
        + @" to) (?=-?\d)|(?<=\d h) (?=\d\d min)")]
    private static partial Regex Breakable();

    private static void Head(StringBuilder html, ReportDocument document) => html
        .Append("<!DOCTYPE html>\n<html lang=\"en\"").Append(WrittenForm.Current is { DecimalMark: not "." } form
            ? $" data-decimal-mark=\"{form.DecimalMark}\""
            : "").Append(">\n<head>\n<meta charset=\"utf-8\">\n")
        .Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-")
            .Append(Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Script.Value))))
            .Append("'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'\">\n")
        .Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light "
            + "dark\">\n<title>")
        .Append(Encode(document.Title)).Append("</title>\n<style>\n").Append(FontFace()).Append('\n')
            .Append(Asset.Text("Html.Vendor.uPlot.min.css")).Append('\n').Append(Asset.Text("Html.page.css")).Append("</style>\n</head>\n");

    private static void KeyFigures(StringBuilder html, IReadOnlyList<KeyFigure> figures)
    {
        if (figures.Count == 0)
        {
            return;
        }

        html.Append("<dl class=\"key\">\n");
        foreach (var figure in figures)
        {
            html.Append("<div><dt>").Append(Encode(figure.Label)).Append("</dt><dd><strong>").Append(Encode(figure.Value))
                .Append("</strong> <span>")
                .Append(Encode(figure.Note)).Append("</span></dd></div>\n");
        }

        html.Append("</dl>\n");
    }
}
