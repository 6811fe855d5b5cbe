using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Efficiency of each method's adapter over its load, with its band.</summary>
internal static class AdapterChart
{
    /// <summary>The chart; null where no adapter was measured on both sides.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var curves = result.AdapterCurves.Where(c => result.Methods.Any(m => m.Name == c.Method)
            && c.Efficiencies.Count(e => e.Efficiency.Value is not null) > 1).ToList();
        if (curves.Count == 0)
        {
            return null;
        }

        string text = "Efficiency of the adapter over its load. " + string.Join(" ", curves.Select(c =>
            $"{Name(c)}: {string.Join(", ", Ends(c).Select(InWords))}."));
        return PlotFrame.Render(
            "adapter", "Efficiency of the adapter over its load", text, ChartSize.Wide.High(320), ChartSize.Narrow.High(300), s =>
                Plot(result, curves, s),
            "Line: the fitted curve, drawn only over the loads that were seen. Band: 95 % interval, the meters' errors included.");
    }

    private static string InWords(LoadEfficiency e) =>
        $"{FigureText.Value(FigureText.Percent(e.Efficiency.Value!))} at {FigureText.Plain(e.OutW, "W", 3)}";

    private static LoadEfficiency[] Ends(AdapterCurveResult c) => [c.Efficiencies[0], c.Efficiencies[^1]];

    private static string Name(AdapterCurveResult c) => c.OutV > 0 ? $"{c.Method}, {FigureText.Plain(c.OutV, "V", 2)}" : c.Method;

    private static Plot Plot(AuditResult result, List<AdapterCurveResult> curves, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        double right = 0;
        double low = 100;
        double high = 0;
        var legend = new List<(string Name, Color Color)>();
        foreach (var curve in curves)
        {
            var color = Palette.Of(result, curve.Method);
            var known = curve.Efficiencies.Where(e => e.Efficiency.Value is not null).ToList();
            double[] xs = [.. known.Select(e => e.OutW)];
            double[] ys = [.. known.Select(e => 100 * e.Efficiency.Value!.Value)];
            double[] least = [.. known.Select((e, i) => 100 * e.Efficiency.Value!.Interval()?.Low ?? ys[i])];
            double[] greatest = [.. known.Select((e, i) => 100 * e.Efficiency.Value!.Interval()?.High ?? ys[i])];
            var band = plot.Add.FillY(xs, least, greatest);
            band.FillColor = color.WithAlpha(0.22);
            band.LineWidth = 0;
            band.MarkerSize = 0;
            var line = plot.Add.ScatterLine(xs, ys, color);
            line.LineWidth = 2;
            right = Math.Max(right, xs.Max());
            low = Math.Min(low, least.Where(double.IsFinite).DefaultIfEmpty(ys.Min()).Min());
            high = Math.Max(high, greatest.Where(double.IsFinite).DefaultIfEmpty(ys.Max()).Max());
            legend.Add((Name(curve), color));
        }

        low = Math.Clamp(10 * Math.Floor(low / 10), 0, 90);
        high = Math.Clamp(10 * Math.Ceiling(high / 10), low + 10, 120);
        plot.Axes.SetLimits(0, right * 1.03, low, high);
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(0, right, size.WidthPx > 500 ? 8 : 4);
        plot.Axes.Bottom.Label.Text = "power out of the adapter [W]";
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(low, high, 5);
        plot.Axes.Left.Label.Text = "efficiency [%]";
        PlotFrame.Legend(plot, size, legend);
        return plot;
    }
}
