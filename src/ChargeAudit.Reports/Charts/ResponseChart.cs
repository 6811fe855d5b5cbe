using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>What one factor changes, for each method: means of its levels with their intervals, and the fitted curve.</summary>
internal static class ResponseChart
{
    private static readonly MarkerShape[] Shapes = [MarkerShape.FilledCircle, MarkerShape.FilledSquare, MarkerShape.FilledDiamond,
        MarkerShape.FilledTriangleUp];

    private static string InWords(FactorLevel l) => $"{FigureText.Of(PlacementWords.ForPeople(l.Shown))} at {l.Name}";

    /// <summary>Key of the chart of a factor.</summary>
    public static string Key(Factor factor) => $"response-{StableName.Of(factor)}";

    /// <summary>A chart for each factor that was varied. Methods that were not measured at the first one's points have no place in
    /// it.</summary>
    public static IEnumerable<Chart> Draw(AuditResult result)
    {
        foreach (var factor in Enum.GetValues<Factor>())
        {
            var all = (result.Placement?.Methods ?? []).Select(m => (Method: m, Curve: m.Responses.FirstOrDefault(r => r.Factor == factor)))
                .Where(m => m.Curve is not null).Select(m => (m.Method, Curve: m.Curve!)).ToList();
            var drawn = all.Where(m => m.Method.Figure == all[0].Method.Figure).ToList();
            if (drawn.Count == 0)
            {
                continue;
            }

            var figure = drawn[0].Method.Figure;
            string name = FactorWords.Of(factor);
            string text = $"{PlacementWords.Of(figure)} over the {name}. " + string.Join(" ", drawn.Select(d =>
                $"{d.Method.Method}: {string.Join(", ", d.Curve.Levels.Select(InWords))}."));
            bool line = drawn.Any(d => d.Curve.Line.Count > 0);
            yield return PlotFrame.Render(
                Key(factor),
                $"{PlainWords.Capital(PlacementWords.Of(figure))} over the {name}",
                PlainWords.Capital(text),
                ChartSize.Wide.High(320),
                ChartSize.Narrow.High(300),
                size => factor == Factor.Case ? Cases(result, drawn, size) : Numbers(result, factor, drawn, size),
                "Points: means with their 95 % intervals, the other factors as they "
                    + $"were.{(line ? " Line and band: the fitted curve with its 95 % interval, over the measured levels only." : "")}");
        }
    }

    private static Plot Numbers(AuditResult result, Factor factor, List<(MethodPlacement Method, ResponseCurve Curve)> drawn,
        ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var bounds = new Bounds();
        for (int i = 0; i < drawn.Count; i++)
        {
            var color = Palette.Of(result, drawn[i].Method.Method);
            var line = drawn[i].Curve.Line;
            if (line.Count > 0)
            {
                double[] xs = [.. line.Select(l => l.Value)];
                var ends = line.Select(l => Ends(l.Shown)).ToList();
                bounds.Add(ends.Select(e => e.Low), ends.Select(e => e.High));
                var band = plot.Add.FillY(xs, [.. ends.Select(e => e.Low)], [.. ends.Select(e => e.High)]);
                band.FillColor = color.WithAlpha(0.16);
                band.LineWidth = 0;
                band.MarkerSize = 0;
                plot.Add.ScatterLine(xs, [.. line.Select(l => PlacementWords.ForPeople(l.Shown).Value)], color).LineWidth = 2;
            }
        }

        // Points last, so that they lie on top of every band.
        for (int i = 0; i < drawn.Count; i++)
        {
            foreach (var level in drawn[i].Curve.Levels)
            {
                Level(plot, size, bounds, level.Value!.Value, level.Shown, Palette.Of(result, drawn[i].Method.Method),
                    Shapes[i % Shapes.Length]);
            }
        }

        var levels = drawn.SelectMany(d => d.Curve.Levels).Select(l => l.Value!.Value).ToList();
        double margin = 0.06 * (levels.Max() - levels.Min());
        Dress(plot, size, result, drawn, bounds, levels.Min() - margin, levels.Max() + margin);
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(levels.Min(), levels.Max(), size.WidthPx > 500 ? 8 : 4);
        plot.Axes.Bottom.Label.Text = $"{FactorWords.Of(factor)} [{RunFactors.UnitOf(factor)}]";
        return plot;
    }

    private static Plot Cases(AuditResult result, List<(MethodPlacement Method, ResponseCurve Curve)> drawn, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var bounds = new Bounds();
        var names = drawn.SelectMany(d => d.Curve.Levels).Select(l => l.Name).Distinct().Order(StringComparer.Ordinal).ToList();
        for (int i = 0; i < drawn.Count; i++)
        {
            double shift = drawn.Count == 1 ? 0 : 0.3 * (((double)i / (drawn.Count - 1)) - 0.5);
            foreach (var level in drawn[i].Curve.Levels)
            {
                Level(plot, size, bounds, names.IndexOf(level.Name) + shift, level.Shown, Palette.Of(result, drawn[i].Method.Method),
                    Shapes[i % Shapes.Length]);
            }
        }

        Dress(plot, size, result, drawn, bounds, -0.5, names.Count - 0.5);
        var ticks = new NumericManual();
        for (int i = 0; i < names.Count; i++)
        {
            ticks.AddMajor(i, PlotFrame.Cut(names[i], size with { LabelCharacters = Math.Max(5, size.WidthPx / names.Count / 9) }));
        }

        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.Bottom.Label.Text = "case";
        return plot;
    }

    private static void Level(Plot plot, ChartSize size, Bounds bounds, double x, Measured shown, Color color, MarkerShape shape)
    {
        double value = PlacementWords.ForPeople(shown).Value;
        var (low, high) = Ends(shown);
        bounds.Add([low, value], [high, value]);
        var line = plot.Add.Line(x, low, x, high);
        line.LineColor = color;
        line.LineWidth = 1.6f;
        line.MarkerSize = 0;
        var dot = plot.Add.Marker(x, value, shape, size.FontPx * 0.65f, color);
        dot.MarkerStyle.OutlineColor = Palette.Card;
        dot.MarkerStyle.OutlineWidth = 1;
    }

    private static void Dress(
        Plot plot, ChartSize size, AuditResult result, List<(MethodPlacement Method, ResponseCurve Curve)> drawn, Bounds bounds,
            double left, double right)
    {
        double margin = bounds.High > bounds.Low ? 0.06 * (bounds.High - bounds.Low) : 1;
        plot.Axes.SetLimits(left, right, bounds.Low - margin, bounds.High + margin);
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(bounds.Low - margin, bounds.High + margin, 5);
        plot.Axes.Left.Label.Text = PlacementWords.Axis(drawn[0].Method.Figure);
        PlotFrame.Legend(plot, size, drawn.Select(d => (d.Method.Method, Palette.Of(result, d.Method.Method))));
    }

    private static (double Low, double High) Ends(Measured shown)
    {
        var figure = PlacementWords.ForPeople(shown);
        return figure.Interval() is { } i && double.IsFinite(i.Low) && double.IsFinite(i.High)
            ? (i.Low, i.High)
            : (figure.Value, figure.Value);
    }

    private sealed class Bounds
    {
        public double Low { get; private set; } = double.PositiveInfinity;

        public double High { get; private set; } = double.NegativeInfinity;

        public void Add(IEnumerable<double> lows, IEnumerable<double> highs)
        {
            Low = Math.Min(Low, lows.Min());
            High = Math.Max(High, highs.Max());
        }
    }
}
