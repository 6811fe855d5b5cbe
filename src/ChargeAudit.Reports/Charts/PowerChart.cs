using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Power over time of each method at one point, every run shifted so that its charge starts at zero, with a strip of modes
/// below.</summary>
internal static class PowerChart
{
    private const double StripHeight = 0.075;

    /// <summary>The chart.</summary>
    /// <param name="point">The point.</param>
    /// <param name="curves">What was measured there.</param>
    public static Chart Draw(MeasuringPoint point, PointCurves curves)
    {
        var methods = curves.Methods;
        string place = Words.At(point);
        string text = $"Power {place} over time, from the start of the charge. " + string.Join(" ", methods.Select(m =>
            $"{m.Method}: {FigureText.Duration(m.Middle.Seen.Charge.DurationS)} of charge at "
            + $"{FigureText.Plain(m.Middle.Seen.Energy.Value * 3600 / m.Middle.Seen.Charge.DurationS, "W", 3)} on average, "
            + $"highest reading {FigureText.Plain(m.Middle.Seen.Log.PeakPowerW, "W", 3)}."));
        string note =
            $"Strong line: the run whose energy lies in the middle. Band: least and greatest reading. {RunsAtPoint.LinesNote(methods)} "
            + "Strips: charging, full, waiting or off; a charge is split into its parts, and short marks are bursts.";
        return PlotFrame.Render(
            "power-" + StableName.Of(point), $"Power {place} over time", text, Sized(ChartSize.Wide.High(430)),
            Sized(ChartSize.Narrow.High(360)), s => Plot(curves, s), note) with
        { Data = CurveData.Power(methods) };

        ChartSize Sized(ChartSize size) => PlotFrame.WithLegend(size, methods.Select(m => m.Method));
    }

    /// <summary>From where to where the time axis runs. [s]</summary>
    public static (double FromS, double ToS) Window(IReadOnlyList<RunsAtPoint> methods)
    {
        double longest = methods.Max(m => m.Others.Append(m.Middle.Seen).Max(r => r.Charge.DurationS));
        double before = methods.Max(m => m.Middle.Seen.Charge.StartS);
        double after = methods.Max(m => m.Middle.Seen.Log.Modes.Select(x => x.Span.EndS).DefaultIfEmpty(m.Middle.Seen.Charge.EndS).Max()
            - m.Middle.Seen.Charge.StartS);
        return (-Math.Min(before, 0.06 * longest), Math.Max(longest * 1.02, Math.Min(after, 1.3 * longest)));
    }

    private static Plot Plot(PointCurves curves, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var methods = curves.Methods;
        var (from, to) = Window(methods);
        double top = 0;
        foreach (var method in methods)
        {
            var color = Palette.Of(method.Index);
            foreach (var run in method.Lines)
            {
                foreach (var curve in curves.Power(run, size))
                {
                    Line(plot, curve.TimesS, curve.MeanW, color.WithAlpha(0.35), 1);
                    top = Math.Max(top, curve.MeanW.Max());
                }
            }

            foreach (var curve in curves.Power(method.Middle.Seen, size))
            {
                var band = plot.Add.FillY(curve.TimesS, curve.LeastW, curve.GreatestW);
                band.FillColor = color.WithAlpha(0.22);
                band.LineWidth = 0;
                band.MarkerSize = 0;
                Line(plot, curve.TimesS, curve.MeanW, color, 2);
                top = Math.Max(top, curve.GreatestW.Max());
            }
        }

        top = top > 0 ? top * 1.05 : 1;
        Strips(plot, methods, size, from, to, top);
        double bottom = -top * ((methods.Count * StripHeight) + 0.03);
        plot.Axes.SetLimits(from, to, bottom, top);
        var (ticks, unit) = PlotFrame.TimeTicks(from, to, size.WidthPx > 500 ? 9 : 4);
        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.Bottom.Label.Text = $"time since the charge started [{unit}]";
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(0, top, 5);
        plot.Axes.Left.Label.Text = "power [W]";
        PlotFrame.Legend(plot, size, methods.Select(m => (m.Method, Palette.Of(m.Index))));
        return plot;
    }

    private static void Line(Plot plot, double[] xs, double[] ys, Color color, float width)
    {
        var line = plot.Add.ScatterLine(xs, ys, color);
        line.LineWidth = width;
    }

    private static void Strips(Plot plot, IReadOnlyList<RunsAtPoint> methods, ChartSize size, double fromS, double toS, double top)
    {
        for (int i = 0; i < methods.Count; i++)
        {
            var seen = methods[i].Middle.Seen;
            var color = Palette.Of(methods[i].Index);
            double high = -top * ((i * StripHeight) + 0.025);
            double low = -top * (((i + 1) * StripHeight) + 0.005);
            foreach (var mode in seen.Modes)
            {
                double start = Math.Max(fromS, mode.Span.StartS - seen.Charge.StartS);
                double end = Math.Min(toS, mode.Span.EndS - seen.Charge.StartS);
                if (end > start)
                {
                    // A charge whose parts are known names those instead.
                    bool parts = seen.Log.Details.Any(d => d.StartS < mode.Span.EndS && d.EndS > mode.Span.StartS
                        && d.Kind is ModeDetailKind.ConstantPower);
                    var place = new CoordinateRect(start, end, low, high);
                    var fill = Strip(plot, mode.Span.Mode, color, place);
                    if (!parts)
                    {
                        StripName.Write(plot, size, Words.Mode(mode.Span.Mode), place, toS - fromS,
                            DetailMarks.Bursts(seen.Log.Details, seen.Charge.StartS), Palette.TextOn(fill));
                    }
                }
            }

            var charge = Palette.Over(color.WithAlpha(Palette.Strength(Mode.Charge)), Palette.Card);
            DetailMarks.Draw(plot, size, seen.Log.Details, seen.Charge.StartS, new CoordinateRect(fromS, toS, low, high), charge);
        }
    }

    // Returns the colour that it shows, opaque.
    private static Color Strip(Plot plot, Mode mode, Color color, CoordinateRect place)
    {
        var box = plot.Add.Rectangle(place);
        box.FillColor = color.WithAlpha(Palette.Strength(mode));
        box.LineColor = color;
        box.LineWidth = 1;
        return Palette.Over(box.FillColor, Palette.Card);
    }
}
