using System.Globalization;
using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// A figure over a history of checks: each measurement divided by the first baseline, with its interval, margin and control limits; below,
/// the change-point score with its limits.
/// </summary>
internal static class TrendChart
{
    private const int MostLabels = 12;

    /// <summary>The chart of one figure.</summary>
    /// <param name="series">What the drift test saw.</param>
    public static Chart Draw(DriftSeries series)
    {
        ArgumentNullException.ThrowIfNull(series);
        using var direct = WrittenForm.UseDirectly();
        string name = CheckReasons.Name(series.Method, series.Point, series.Figure);
        var last = series.Steps[^1];
        string told = string.Join(", ", series.Steps.Skip(1).Select((s, i) =>
            InvariantText.Of(
                $"{i + 1}: {CheckReasons.Change(s.Ratio)}"
                    + $"{(s.Verdict != CheckVerdict.Fail ? "" : s.Counted ? " (failed)" : " (failed, not counted)")}")));
        return PanelFrame.Render(
            Key(series),
            $"{name}: trend over {FigureText.Count(series.Steps.Count - 1)} {(series.Steps.Count == 2 ? "check" : "checks")}",
            Prose.Of(
                $"{name} by the first baseline, check by check: {told}; the last stands at {FigureText.Plain(last.Value, series.Unit, 4)}. "
                + $"Margin {CheckReasons.Percent(series.Finding.Margin)}. Change-point score {series.Finding.Score:0.00}, alarm above "
                + $"{series.Finding.Limit:0.00}: {(series.Finding.Alarm ? "alarm" : "no alarm")}."),
            ChartSize.Wide.High(250),
            ChartSize.Narrow.High(230),
            size => [Ratios(series, size), Scores(series, size)],
            "Above: each measurement by the first baseline, with its 95 % interval by the scatter of the runs; dashed: the margin; grey "
                + "steps: control limits, three standard deviations about the mean of all before. "
                + "Crosses: candidates that failed; later checks do not count them. Below: the change-point score, in standard deviations; "
                    + "above the grey step of its check it raises an alarm.");
    }

    /// <summary>Key of a figure's chart, fit for a file name.</summary>
    /// <param name="series">The figure.</param>
    public static string Key(DriftSeries series)
    {
        ArgumentNullException.ThrowIfNull(series);
        string method = new([.. series.Method.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-')]);
        return $"trend-{method}-{StableName.Of(series.Point)}-{StableName.Of(series.Figure)}";
    }

    private static Plot Ratios(DriftSeries series, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var ink = Palette.Of(0);
        double Percent(double ratio) => 100 * (ratio - 1);
        var level = plot.Add.HorizontalLine(0, 1, Palette.Ink);
        level.LineWidth = 1;
        var margin = plot.Add.HorizontalLine(100 * series.Finding.Margin, 1.6f, Palette.Of(1));
        margin.LinePattern = LinePattern.Dashed;
        for (int i = 0; i < series.Steps.Count; i++)
        {
            var step = series.Steps[i];
            foreach (double? limit in (ReadOnlySpan<double?>)[step.LowLimit, step.HighLimit])
            {
                if (limit is { } at)
                {
                    Stroke(plot, i - 0.45, Percent(at), i + 0.45, Percent(at), Palette.Of(5).WithAlpha(0.7), 1.4f);
                }
            }

            Stroke(plot, i, Percent(step.Low), i, Percent(step.High), ink, 1.6f);
            bool failed = step.Verdict == CheckVerdict.Fail;
            var dot = plot.Add.Marker(i, Percent(step.Ratio), failed
                ? MarkerShape.Eks
                : MarkerShape.FilledCircle, size.FontPx * (failed ? 0.85f : 0.65f), failed ? Palette.Of(1) : ink);
            dot.MarkerStyle.LineWidth = 2;
        }

        var ends = series.Steps.SelectMany(s => new[] { s.Low, s.High, s.LowLimit ?? s.Low, s.HighLimit ?? s.High }).Select(Percent)
            .Append(100 * series.Finding.Margin).Append(0).ToList();
        double room = 0.08 * (ends.Max() - ends.Min());
        Frame(plot, series, size, ends.Min() - room, ends.Max() + room);
        plot.Axes.Left.Label.Text = size.WidthPx > 500 ? "against first baseline [%]" : "change [%]";
        plot.Axes.Bottom.TickLabelStyle.IsVisible = false;
        PlotFrame.Legend(plot, size, [("measured", ink), ("margin", Palette.Of(1)), ("control limits", Palette.Of(5))]);
        return plot;
    }

    private static Plot Scores(DriftSeries series, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var counted = series.Steps.Select((s, i) => (Place: (double)i, s.Score, s.Limit)).Where(s => s.Score is not null).ToList();
        foreach (var (place, _, limit) in counted.Where(s => s.Limit is not null))
        {
            Stroke(plot, place - 0.45, limit!.Value, place + 0.45, limit.Value, Palette.Of(5).WithAlpha(0.7), 1.4f);
        }

        var line = plot.Add.Scatter(counted.Select(s => s.Place).ToArray(), counted.Select(s => s.Score!.Value).ToArray(), Palette.Of(0));
        line.LineWidth = 2;
        line.MarkerSize = size.FontPx * 0.55f;
        double top = 1.1 * counted.Max(s => Math.Max(s.Score!.Value, s.Limit ?? 0));
        Frame(plot, series, size, -0.04 * top, top);
        plot.Axes.Left.Label.Text = size.WidthPx > 500 ? "change-point score [1]" : "score [1]";
        plot.Axes.Bottom.Label.Text = "check (0: the first baseline)";
        return plot;
    }

    private static void Frame(Plot plot, DriftSeries series, ChartSize size, double low, double high)
    {
        plot.Axes.SetLimits(-0.6, series.Steps.Count - 0.4, low, high);
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(low, high, 4);
        var ticks = new NumericManual();
        int every = Math.Max(1, (int)Math.Ceiling(series.Steps.Count / (double)(size.WidthPx > 500 ? MostLabels : MostLabels / 2)));
        for (int i = 0; i < series.Steps.Count; i += every)
        {
            ticks.AddMajor(i, i.ToString(CultureInfo.InvariantCulture));
        }

        plot.Axes.Bottom.TickGenerator = ticks;
    }

    private static void Stroke(Plot plot, double x1, double y1, double x2, double y2, Color color, float width)
    {
        var line = plot.Add.Line(x1, y1, x2, y2);
        line.LineColor = color;
        line.LineWidth = width;
        line.MarkerSize = 0;
    }
}
