using System.Text;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Model;

namespace ChargeAudit.Reports.Html;

/// <summary>The pieces of a report as HTML.</summary>
internal static class HtmlBlocks
{
    /// <summary>Writes one piece.</summary>
    /// <param name="html">Takes it.</param>
    /// <param name="block">The piece.</param>
    /// <param name="charts">The charts by their keys.</param>
    /// <param name="rowEnds">Called after each row of a table, which may be long; what was written may be taken away then.</param>
    public static void Write(StringBuilder html, Block block, IReadOnlyDictionary<string, Chart> charts, Action rowEnds)
    {
        switch (block)
        {
            case Paragraph paragraph:
                html.Append("<p>").Append(Text(paragraph.Text)).Append("</p>\n");
                break;
            case Subheading heading:
                html.Append("<h3>").Append(Text(heading.Text)).Append("</h3>\n");
                break;
            case Verbatim verbatim:
                html.Append("<pre tabindex=\"0\"><code>").Append(Text(verbatim.Text)).Append("</code></pre>\n");
                break;
            case Bullets bullets:
                html.Append("<ul>\n").AppendJoin("", bullets.Items.Select(i => $"<li>{Text(i)}</li>\n")).Append("</ul>\n");
                break;
            case Picture picture:
                Figure(html, charts[picture.ChartKey]);
                break;
            case Chain chain:
                Row(html, chain);
                break;
            case DataTable table:
                Table(html, table, rowEnds);
                break;
            default:
                throw new InvalidOperationException($"the page has no form for {block.GetType().Name}");
        }
    }

    private static void Figure(StringBuilder html, Chart chart)
    {
        html.Append("<figure id=\"chart-").Append(chart.Key).Append("\">\n<figcaption>").Append(Text(chart.Title))
            .Append("</figcaption>\n<div class=\"chart").Append(chart.StaysLight ? " pale" : "").Append("\" role=\"img\" aria-label=\"")
            .Append(Text(chart.Alternative)).Append("\">\n<div class=\"wide\">").Append(chart.WideSvg)
                .Append("</div>\n<div class=\"narrow\">").Append(chart.NarrowSvg).Append("</div>\n</div>\n");
        if (chart.Note is { } note)
        {
            html.Append("<p class=\"note\">").Append(Text(note)).Append("</p>\n");
        }

        if (chart.Data is { } data)
        {
            html.Append("<script type=\"application/json\" data-chart=\"").Append(chart.Key).Append("\">").Append(data)
                .Append("</script>\n");
        }

        html.Append("</figure>\n");
    }

    private static void Row(StringBuilder html, Chain chain)
    {
        html.Append("<h3>").Append(Text(chain.Method)).Append(" <small>").Append(Text(chain.Kind))
            .Append("</small></h3>\n<ol class=\"chain\" style=\"--line:")
            .Append(Palette.Hex(chain.Color)).Append("\">\n");
        foreach (var place in chain.Places)
        {
            html.Append("<li><div class=\"place").Append(place.Energy is null ? " empty" : "").Append("\"><b>").Append(Text(place.Name))
                .Append("</b> <span>")
                .Append(Text(place.Energy ?? "not measured")).Append("</span></div>");
            if (place.Stage is { } stage)
            {
                html.Append("<div class=\"stage\"><i>").Append(Text(stage)).Append("</i>");
                if (place.Loss is { } loss)
                {
                    html.AppendJoin("", loss.Split("; ").Select(part => $" <span>{Text(part)}</span>"));
                }

                html.Append("</div>");
            }

            html.Append("</li>\n");
        }

        html.Append("</ol>\n");
    }

    private static void Table(StringBuilder html, DataTable table, Action rowEnds)
    {
        if (table.Folded)
        {
            html.Append("<details><summary>").Append(Text(table.Caption)).Append("</summary>\n");
        }

        html.Append("<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"").Append(Text(table.Caption))
            .Append("\">\n<table role=\"table\">\n<caption>").Append(Text(table.Caption))
            .Append("</caption>\n<thead role=\"rowgroup\"><tr role=\"row\">");
        foreach (var column in table.Columns)
        {
            html.Append("<th scope=\"col\" role=\"columnheader\"").Append(Align(column)).Append('>').Append(Text(column.Header))
                .Append("</th>");
        }

        html.Append("</tr></thead>\n<tbody role=\"rowgroup\">\n");
        foreach (var row in table.Rows)
        {
            html.Append("<tr role=\"row\">");
            for (int i = 0; i < row.Count; i++)
            {
                // The roles keep the table a table where a narrow screen stacks its cells; the label then stands before each.
                string open = i == 0
                    ? "<th scope=\"row\" role=\"rowheader\""
                    : $"<td role=\"cell\" data-label=\"{Text(table.Columns[i].Header)}\"";
                html.Append(open).Append(Align(table.Columns[i])).Append('>').Append(Text(row[i])).Append(i == 0 ? "</th>" : "</td>");
            }

            html.Append("</tr>\n");
            rowEnds();
        }

        html.Append("</tbody>\n</table>\n</div>\n").Append(table.Folded ? "</details>\n" : "");
    }

    private static string Align(Column column) => column.Kind == ColumnKind.Number ? " class=\"n\"" : "";

    private static string Text(string text) => HtmlPage.Encode(text);
}
