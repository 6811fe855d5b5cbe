using System.Text;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Model;
using ChargeAudit.Reports.Model.Sections;
using static ChargeAudit.Reports.Markdown.MarkdownText;

namespace ChargeAudit.Reports.Markdown;

/// <summary>The report as Markdown, with pictures beside it in the folder <c>charts</c>.</summary>
public static class MarkdownReport
{
    /// <summary>The text; lines end with a line feed.</summary>
    public static string Of(AuditResult result, IReadOnlyList<Chart> charts) => Of(ReportBuilder.Build(result, charts), charts);

    /// <summary>The text of any report.</summary>
    internal static string Of(ReportDocument document, IReadOnlyList<Chart> charts)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(Escape(document.Title)).Append("\n\n**").Append(Escape(document.Answer)).Append("**\n\n");
        foreach (var figure in document.Figures)
        {
            text.Append("- ").Append(Escape(figure.Label)).Append(": **").Append(Escape(figure.Value)).Append("** (")
                .Append(Escape(figure.Note)).Append(")\n");
        }

        text.Append(document.Figures.Count > 0 ? "\n" : "");
        foreach (string detail in document.Details)
        {
            text.Append(Escape(detail)).Append("\n\n");
        }

        var byKey = charts.ToDictionary(c => c.Key);
        foreach (var section in document.Sections)
        {
            text.Append("## ").Append(Escape(section.Title)).Append("\n\n");
            foreach (var block in section.Blocks)
            {
                Write(text, block, byKey);
            }
        }

        return text.ToString().TrimEnd('\n') + "\n";
    }

    private static void Write(StringBuilder text, Block block, Dictionary<string, Chart> charts)
    {
        switch (block)
        {
            case Paragraph paragraph:
                text.Append(Escape(paragraph.Text)).Append("\n\n");
                break;
            case Subheading heading:
                text.Append("### ").Append(Escape(heading.Text)).Append("\n\n");
                break;
            case Verbatim verbatim:
                text.Append("    ")
                    .Append(VisibleText.Of(WrittenMarks.Shown(verbatim.Text), lines: true).ReplaceLineEndings("\n    ")).Append("\n\n");
                break;
            case Bullets bullets:
                text.AppendJoin("", bullets.Items.Select(i => $"- {Escape(i)}\n")).Append('\n');
                break;
            case Picture picture:
                var chart = charts[picture.ChartKey];
                text.Append("![").Append(Escape(chart.Alternative)).Append("](charts/").Append(chart.Key).Append(".svg)\n\n");
                text.Append(chart.Note is { } note ? Escape(note) + "\n\n" : "");
                break;
            case Chain chain:
                text.Append("### ").Append(Escape(chain.Method)).Append(" (").Append(Escape(chain.Kind)).Append(")\n\n");
                text.AppendJoin("", chain.Places.Select((p, i) => $"{i + 1}. {Escape(p.Name)}: {Escape(p.Energy ?? "not measured")}"
                    + (p.Stage is { } stage ? $"; then {Escape(stage)}" + (p.Loss is { } loss ? $", which {Escape(loss)}" : "") : "")
                        + "\n")).Append('\n');
                break;
            case DataTable table:
                Table(text, table);
                break;
            default:
                throw new InvalidOperationException($"the Markdown report has no form for {block.GetType().Name}");
        }
    }

    private static void Table(StringBuilder text, DataTable table)
    {
        text.Append("**").Append(Escape(table.Caption)).Append("**\n\n| ").AppendJoin(" | ", table.Columns.Select(c => Escape(c.Header)))
            .Append(" |\n|");
        text.AppendJoin("", table.Columns.Select(c => c.Kind == ColumnKind.Number ? "---:|" : "---|")).Append('\n');
        foreach (var row in table.Rows)
        {
            text.Append("| ").AppendJoin(" | ", row.Select(Escape)).Append(" |\n");
        }

        text.Append('\n');
    }
}
