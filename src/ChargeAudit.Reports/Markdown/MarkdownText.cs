using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Markdown;

/// <summary>Text as Markdown holds it.</summary>
internal static class MarkdownText
{
    /// <summary>Text in which nothing is taken for markup, ends a cell or breaks a line.</summary>
    public static string Escape(string text)
    {
        var escaped = new StringBuilder(text.Length + 8);
        foreach (char c in VisibleText.Of(WrittenMarks.Shown(text).ReplaceLineEndings(" ")))
        {
            escaped.Append(c switch
            {
                '\\' or '`' or '*' or '_' or '[' or ']' or '#' or '|' or '~' or '!' => "\\" + c,
                '<' => "&lt;",
                '>' => "&gt;",
                '&' => "&amp;",
                _ => c.ToString(),
            });
        }

        return escaped.ToString();
    }
}
