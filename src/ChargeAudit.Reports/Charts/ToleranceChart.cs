using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>How much more a charge takes, the further the device lies off the best position, and where that reaches the rise asked
/// for.</summary>
internal static class ToleranceChart
{
    public const string Key = "placement-tolerance";

    /// <summary>The chart; null where no tolerance was looked for.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var methods = result.Placement?.Methods.Where(m => m.Tolerance is { Curve.Count: > 0 }).ToList() ?? [];
        return methods.Count == 0 ? null : PlotFrame.Render(
            Key,
            "More energy, the further off the best position",
            string.Join(" ", methods.Select(m => m.Tolerance!.Sentence(m.Method))),
            ChartSize.Wide.High(320),
            ChartSize.Narrow.High(300),
            size => Plot(result, methods, size),
            "Line and band: the fitted model with its 95 % interval by the scatter of the runs, out to the greatest offset measured. "
                + "Dashed: the rise asked for; point and bar on it: the tolerance and its interval.");
    }

    private static Plot Plot(AuditResult result, List<MethodPlacement> methods, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        double rise = 100 * result.Placement!.Rise;
        double reach = methods.Max(m => m.Tolerance!.MeasuredToMm), low = 0, high = rise;
        foreach (var m in methods)
        {
            var color = Palette.Of(result, m.Method);
            var curve = m.Tolerance!.Curve;
            double[] xs = [.. curve.Select(c => c.OffsetMm)];
            if (double.IsFinite(curve[^1].High))
            {
                var band = plot.Add.FillY(xs, [.. curve.Select(c => 100 * c.Low)], [.. curve.Select(c => 100 * c.High)]);
                band.FillColor = color.WithAlpha(0.16);
                band.LineWidth = 0;
                band.MarkerSize = 0;
                (low, high) = (Math.Min(low, curve.Min(c => 100 * c.Low)), Math.Max(high, curve.Max(c => 100 * c.High)));
            }

            plot.Add.ScatterLine(xs, [.. curve.Select(c => 100 * c.Rise)], color).LineWidth = 2;
            high = Math.Max(high, curve.Max(c => 100 * c.Rise));
        }

        var asked = plot.Add.HorizontalLine(rise, 1.4f, Palette.Ink);
        asked.LinePattern = LinePattern.Dashed;
        double margin = 0.06 * (high - low);
        for (int i = 0; i < methods.Count; i++)
        {
            var (m, t) = (methods[i], methods[i].Tolerance!);
            if (t.OffsetMm is not { } offset)
            {
                continue;
            }

            // Side by side about the dashed line, so that intervals that overlap both stay visible.
            double at = rise + (0.4 * margin * (((methods.Count - 1) / 2.0) - i));
            if (t.LowMm is { } from)
            {
                var bar = plot.Add.Line(from, at, t.HighMm ?? t.MeasuredToMm, at);
                bar.LineColor = Palette.Of(result, m.Method);
                bar.LineWidth = 4;
                bar.MarkerSize = 0;
            }

            var dot = plot.Add.Marker(offset, at, MarkerShape.FilledCircle, size.FontPx * 0.8f, Palette.Of(result, m.Method));
            dot.MarkerStyle.OutlineColor = Palette.Card;
            dot.MarkerStyle.OutlineWidth = 1.4f;
        }

        plot.Axes.SetLimits(0, 1.02 * reach, low - margin, high + margin);
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(0, reach, size.WidthPx > 500 ? 8 : 4);
        plot.Axes.Bottom.Label.Text = size.WidthPx > 500 ? "offset from the best position [mm]" : "off the best position [mm]";
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(low - margin, high + margin, 5);
        plot.Axes.Left.Label.Text = "more energy [%]";
        PlotFrame.Legend(plot, size, methods.Select(m => (m.Method, Palette.Of(result, m.Method))));
        return plot;
    }
}
