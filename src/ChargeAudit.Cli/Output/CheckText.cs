using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>check</c> prints for people: the verdict, why, and each figure.</summary>
internal static class CheckText
{
    public static void Write(TerminalText text, CheckResult result)
    {
        text.Title(Prose.Of($"Check: {StableName.Of(result.Verdict)} (one-sided level {result.Alpha})"));
        text.Bullets(result.Reasons);
        text.Heading($"{result.Candidate} against {result.Baseline}");
        text.Table(
            ["figure", "baseline", "candidate", "runs", "change", "bounds", "margin", "verdict"],
            result.Figures.Select(f => (IReadOnlyList<string>)
            [
                CheckReasons.Name(f),
                f.Baseline is { } b ? FigureText.Value(b) : "not known",
                f.Candidate is { } c ? FigureText.Value(c) : "not known",
                InvariantText.Of($"{f.BaselineRuns}, {f.CandidateRuns}"),
                f.Ratio is { } r ? CheckReasons.Change(r.Value) : "not known",
                f.Test is { } t ? CheckReasons.Bounds(t) : "not known",
                CheckReasons.Percent(f.Margin),
                StableName.Of(f.Verdict),
            ]));
        if (result.Drifts.Count > 0)
        {
            text.Heading("Drift over the history");
            int alarms = result.Drifts.Count(d => d.Alarm);
            text.Line(InvariantText.Of($"{alarms} of {result.Drifts.Count} figures drift upwards."));
            text.Bullets(DriftTest.Promise(result.Drifts));
        }

        if (result.NotCompared.Count > 0)
        {
            text.Heading("Not compared");
            text.Bullets(result.NotCompared);
        }
    }

    /// <summary>Where the trend charts are; where there are none, why.</summary>
    public static void Trends(TerminalText text, IReadOnlyList<WrittenTrend> trends) => text.Line(trends.Count > 0
        ? $"Trend charts: {string.Join(", ", trends.Select(t => t.PngPath))}, and the same as SVG."
        : "There is nothing to draw of a trend: no figure has two runs or more on both sides, so its scatter is not known.");
}
