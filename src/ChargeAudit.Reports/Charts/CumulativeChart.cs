using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Energy added up from the start of the charge, of each method at one point.</summary>
internal static class CumulativeChart
{
    /// <summary>The chart.</summary>
    /// <param name="point">The point.</param>
    /// <param name="curves">What was measured there.</param>
    public static Chart Draw(MeasuringPoint point, PointCurves curves)
    {
        var methods = curves.Methods;
        string place = Words.At(point);
        string text = $"Energy {place} added up from the start of the charge. " + string.Join(" ", methods.Select(m =>
            $"{m.Method} reaches {FigureText.Value(m.Middle.Seen.Energy)} after {FigureText.Duration(m.Middle.Seen.Charge.DurationS)}, "
                + "when the charge ends."));
        return PlotFrame.Render(
            "cumulative-" + StableName.Of(point),
            $"Energy {place}, added up",
            text,
            PlotFrame.WithLegend(ChartSize.Wide.High(380), methods.Select(m => m.Method)),
            PlotFrame.WithLegend(ChartSize.Narrow, methods.Select(m => m.Method)),
            s => Plot(curves, s),
            $"Strong line: the run whose energy lies in the middle. {RunsAtPoint.LinesNote(methods)} Circle: where the charge ends; after "
                + "it the device is full.") with
        { Data = CurveData.Energy(methods) };
    }

    private static Plot Plot(PointCurves curves, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var methods = curves.Methods;
        double to = PowerChart.Window(methods).ToS;
        double top = 0;
        foreach (var method in methods)
        {
            var color = Palette.Of(method.Index);
            foreach (var run in method.Lines)
            {
                top = Math.Max(top, Line(plot, curves.Energy(run, size), color.WithAlpha(0.4), 1));
            }

            top = Math.Max(top, Line(plot, curves.Energy(method.Middle.Seen, size), color, 2.2f));
            var seen = method.Middle.Seen;
            var end = plot.Add.Marker(seen.Charge.DurationS, Energy(seen, seen.Charge.EndS), MarkerShape.FilledCircle, size.FontPx * 0.75f,
                Palette.Card);
            end.MarkerStyle.OutlineColor = color;
            end.MarkerStyle.OutlineWidth = 2;
        }

        top = top > 0 ? top * 1.06 : 1;
        plot.Axes.SetLimits(0, to, 0, top);
        var (ticks, unit) = PlotFrame.TimeTicks(0, to, size.WidthPx > 500 ? 9 : 4);
        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.Bottom.Label.Text = $"time since the charge started [{unit}]";
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(0, top, 5);
        plot.Axes.Left.Label.Text = "energy [Wh]";
        PlotFrame.Legend(plot, size, methods.Select(m => (m.Method, Palette.Of(m.Index))));
        return plot;
    }

    private static double Energy(RunPointResult run, double untilS) => run.Log.Envelope.EnergyBetweenJ(run.Charge.StartS, untilS) / 3600;

    private static double Line(Plot plot, EnergyCurve curve, Color color, float width)
    {
        var line = plot.Add.ScatterLine(curve.TimesS, curve.EnergiesWh, color);
        line.LineWidth = width;
        return curve.EnergiesWh[^1];
    }
}
