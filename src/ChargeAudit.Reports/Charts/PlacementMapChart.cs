using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>The map over positions of each method, all with the same axes and colours; nothing is drawn outside what was
/// measured.</summary>
internal static class PlacementMapChart
{
    public const string Key = "placement-map";

    private const int Cells = 160;
    private const double MarginShare = 0.14;

    /// <summary>The chart; null where no method has a map. Methods that were not measured at the first one's points have no place in
    /// it.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var all = result.Placement?.Methods.Where(m => m.Map is not null).ToList() ?? [];
        var methods = all.Where(m => m.Figure == all[0].Figure).ToList();
        if (methods.Count == 0)
        {
            return null;
        }

        var figure = methods[0].Figure;
        string what = PlacementWords.Of(figure);
        static string InWords(MeasuredPosition p) =>
            $"{FigureText.Value(PlacementWords.ForPeople(p.Shown))} at {FactorWords.Position(p.XMm, p.YMm)}";
        string alternative = $"Map of {what} over the position on the pad. "
            + string.Join(" ", methods.Select(m => $"{m.Method}: {string.Join(", ", m.Positions.Select(InWords))}."));
        var frame = Frame.Of(methods);
        double aspect = frame.Height / frame.Width;
        int Wide(int width) => (int)Math.Clamp((width - 150) * aspect + 90, 240, 560);
        int panel = methods.Count == 1 ? 560 : ChartSize.Wide.WidthPx / 2;
        return MapFrame.Render(
            Key,
            $"{PlainWords.Capital(what)}: map over the position on the pad",
            alternative,
            ChartSize.Wide with { WidthPx = panel, HeightPx = Wide(panel) },
            ChartSize.Narrow.High(Wide(ChartSize.Narrow.WidthPx)),
            size => [.. methods.Select(m => Plot(m, frame, size))],
            "Points: measured, with their values. Colours between them: straight from point to point; pale is "
                + $"better{(methods.Count > 1 ? ", the same scale for all" : "")}. Nothing is shown outside the outline.");
    }

    private static Plot Plot(MethodPlacement method, Frame frame, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        bool efficiency = method.Figure.To is not null;
        double scale = efficiency ? 100 : 1;
        double cell = Math.Max(frame.Right - frame.Left, frame.High - frame.Low) / Cells;
        int columns = Math.Max(2, (int)Math.Round((frame.Right - frame.Left) / cell)),
            rows = Math.Max(2, (int)Math.Round((frame.High - frame.Low) / cell));
        double[,] values = new double[rows, columns];
        for (int i = 0; i < rows; i++)
        {
            for (int j = 0; j < columns; j++)
            {
                values[i, j] = scale * method.Map!.ValueAt(
                    frame.Left + ((j + 0.5) / columns * (frame.Right - frame.Left)), frame.High
                        - ((i + 0.5) / rows * (frame.High - frame.Low)));
            }
        }

        var map = plot.Add.Heatmap(values);
        map.Position = new CoordinateRect(frame.Left, frame.Right, frame.Low, frame.High);
        map.Colormap = new MapColors(lowIsGood: !efficiency);
        map.ManualRange = new ScottPlot.Range(scale * frame.Least, scale * frame.Greatest);
        map.NaNCellColor = Colors.Transparent;
        var hull = plot.Add.Polygon([.. method.Map!.Hull.Select(p => new Coordinates(p.XMm, p.YMm))]);
        hull.FillColor = Colors.Transparent;
        hull.LineColor = Palette.Ink;
        hull.LineWidth = 1;
        var bar = plot.Add.ColorBar(map);
        bar.Axis.TickLabelStyle.FontName = ChartFont.Family;
        bar.Axis.TickLabelStyle.FontSize = size.FontPx;
        bar.Axis.TickLabelStyle.ForeColor = Palette.Ink;
        bar.Axis.TickGenerator = PlotFrame.RoundTicks(scale * frame.Least, scale * frame.Greatest, 5);
        bar.Label = PlacementWords.Axis(method.Figure);
        bar.LabelStyle.FontName = ChartFont.Family;
        bar.LabelStyle.FontSize = size.FontPx;
        bar.LabelStyle.Bold = false;
        bar.LabelStyle.ForeColor = Palette.Ink;
        foreach (var p in method.Positions)
        {
            Point(plot, size, p, scale);
        }

        plot.Axes.SetLimits(frame.OuterLeft, frame.OuterRight, frame.OuterLow, frame.OuterHigh);
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(frame.OuterLeft, frame.OuterRight, size.WidthPx > 500 ? 8 : 4);
        plot.Axes.Left.TickGenerator = PlotFrame.RoundTicks(frame.OuterLow, frame.OuterHigh, 6);
        plot.Axes.Bottom.Label.Text = "offset x [mm]";
        plot.Axes.Left.Label.Text = "offset y [mm]";
        plot.Axes.Title.Label.Text = PlotFrame.Cut(method.Method, size);
        plot.Axes.Title.Label.FontName = ChartFont.Family;
        plot.Axes.Title.Label.FontSize = size.FontPx + 1;
        plot.Axes.Title.Label.Bold = false;
        plot.Axes.Title.Label.ForeColor = Palette.Ink;

        // A millimetre is as long upwards as sideways. The rule moves the limits each time the plot is drawn, so it works on a trial
        // drawing, and the limits that it found are kept.
        plot.Axes.SquareUnits();
        plot.RenderInMemory(size.WidthPx, size.HeightPx);
        var limits = plot.Axes.GetLimits();
        plot.Axes.Rules.Clear();
        plot.Axes.SetLimits(limits);
        return plot;
    }

    private static void Point(Plot plot, ChartSize size, MeasuredPosition p, double scale)
    {
        var dot = plot.Add.Marker(p.XMm, p.YMm, MarkerShape.FilledCircle, size.FontPx * 0.6f, Colors.White);
        dot.MarkerStyle.OutlineColor = Palette.Ink;
        dot.MarkerStyle.OutlineWidth = 1.4f;
        var text = plot.Add.Text(FigureText.Plain(scale * p.Shown.Value, "", 3), p.XMm, p.YMm);
        text.OffsetY = -0.6f * size.FontPx;
        text.LabelFontName = ChartFont.Family;
        text.LabelFontSize = size.FontPx - 1;
        text.LabelFontColor = Palette.Ink;
        text.LabelBackgroundColor = Palette.Card.WithAlpha(0.82);
        text.LabelPadding = 1.5f;
        text.LabelAlignment = Alignment.LowerCenter;
    }

    /// <summary>What all maps have in common: their axes and their scale.</summary>
    private sealed record Frame(double Left, double Right, double Low, double High, double Least, double Greatest)
    {
        public double Width => OuterRight - OuterLeft;

        public double Height => OuterHigh - OuterLow;

        public double OuterLeft => Left - Margin;

        public double OuterRight => Right + Margin;

        public double OuterLow => Low - Margin;

        public double OuterHigh => High + Margin;

        private double Margin => MarginShare * Math.Max(Right - Left, High - Low);

        public static Frame Of(List<MethodPlacement> methods)
        {
            var positions = methods.SelectMany(m => m.Positions).ToList();
            double least = positions.Min(p => p.Shown.Value), greatest = positions.Max(p => p.Shown.Value);
            if (!(greatest > least))
            {
                // Equal values everywhere are one colour, and a scale needs a width.
                (least, greatest) = (0.995 * least, 1.005 * greatest);
            }

            return new Frame(
                positions.Min(p => p.XMm), positions.Max(p => p.XMm), positions.Min(p => p.YMm), positions.Max(p => p.YMm), least,
                    greatest);
        }
    }
}
