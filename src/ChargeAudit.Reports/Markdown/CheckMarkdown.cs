using System.Globalization;
using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;
using static ChargeAudit.Reports.Markdown.MarkdownText;

namespace ChargeAudit.Reports.Markdown;

/// <summary>The verdict of a check as Markdown, for a page that a build shows.</summary>
public static class CheckMarkdown
{
    /// <summary>The text; lines end with a line feed.</summary>
    /// <param name="result">The check.</param>
    /// <param name="trends">The trend charts that were written; null: none.</param>
    /// <param name="folder">Folder that the page will be in; the pictures are named from there.</param>
    public static string Of(CheckResult result, IReadOnlyList<WrittenTrend>? trends = null, string folder = ".")
    {
        ArgumentNullException.ThrowIfNull(result);
        trends ??= [];
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"# Regression check: {StableName.Of(result.Verdict)}\n\n");
        text.Append(CultureInfo.InvariantCulture,
            $"{Escape(result.Candidate)} against {Escape(result.Baseline)}, one-sided level {result.Alpha}.\n\n");
        foreach (string reason in result.Reasons)
        {
            text.Append("- ").Append(Escape(reason)).Append('\n');
        }

        text.Append(
            "\n| method | point | figure | baseline | candidate | change | bounds | margin | verdict |\n"
            + "|---|---|---|---|---|---|---|---|---|\n");
        foreach (var f in result.Figures)
        {
            string baseline = f.Baseline is { } b ? FigureText.Value(b) : "not known";
            string candidate = f.Candidate is { } c ? FigureText.Value(c) : "not known";
            string change = f.Ratio is { } r ? CheckReasons.Change(r.Value) : "not known";
            string between = f.Test is { } t ? CheckReasons.Bounds(t) : "not known";
            text.Append(CultureInfo.InvariantCulture,
                $"| {Escape(f.Method)} | {Words.Place(f.Point)} | {CheckReasons.Words(f.Figure)} | {baseline} | {candidate} | {change} | "
                + $"{between} | {CheckReasons.Percent(f.Margin)} | {StableName.Of(f.Verdict)} |\n");
        }

        var drifts = result.Drifts.Select(DriftTest.Sentence).Concat(result.Drifts.Count > 0 ? DriftTest.Promise(result.Drifts) : []);
        foreach (var (heading, lines) in new[] { ("Drift", drifts), ("Not compared", result.NotCompared) })
        {
            if (lines.Any())
            {
                text.Append(CultureInfo.InvariantCulture, $"\n## {heading}\n\n").AppendJoin("", lines.Select(l => $"- {Escape(l)}\n"));
            }
        }

        if (trends.Count > 0)
        {
            text.Append("\n## Trend\n");
            foreach (var trend in trends)
            {
                string path = Uri.EscapeDataString(Path.GetRelativePath(folder, trend.PngPath).Replace('\\', '/'))
                    .Replace("%2F", "/", StringComparison.Ordinal);
                text.Append(CultureInfo.InvariantCulture,
                    $"\n{Escape(trend.Chart.Title)}:\n\n![{Escape(trend.Chart.Alternative)}]({path})\n");
            }

            text.Append('\n').Append(Escape(trends[0].Chart.Note ?? "")).Append('\n');
        }

        return text.ToString();
    }
}
