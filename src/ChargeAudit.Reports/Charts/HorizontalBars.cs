using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>One bar and what is shown with it.</summary>
/// <param name="Name">What it is; at the left, and is cut where there is no room.</param>
/// <param name="Suffix">What tells it from others of the same name; never cut.</param>
/// <param name="Text">Its figure in words; at the right.</param>
/// <param name="Parts">Pieces of the bar from left to right.</param>
internal sealed record BarRow(string Name, string Suffix, string Text, IReadOnlyList<BarPart> Parts)
{
    /// <summary>Name and suffix in full.</summary>
    public string Label => Name + Suffix;

    /// <summary>The interval of the figure; null where not known.</summary>
    public (double Low, double High)? Interval { get; init; }

    /// <summary>Single values, drawn as points.</summary>
    public IReadOnlyList<double> Dots { get; init; } = [];
}

/// <summary>A piece of a bar.</summary>
/// <param name="From">Where it starts, in the axis' unit.</param>
/// <param name="To">Where it ends, in the axis' unit.</param>
/// <param name="Fill">Its colour.</param>
/// <param name="Edge">Colour of its border.</param>
internal sealed record BarPart(double From, double To, Color Fill, Color Edge);

/// <summary>Bars that lie on their side: their labels stay readable on a narrow screen.</summary>
internal static class HorizontalBars
{
    private const int RowPx = 34;
    private const int FramePx = 74;
    private const int GapPx = 14;

    /// <summary>Height for a number of rows, in a size. [px]</summary>
    public static ChartSize Fit(ChartSize size, int rows, int legendPx = 0) => size.High(FramePx + legendPx + (rows * RowPx));

    /// <summary>Draws the rows from top to bottom.</summary>
    public static Plot Plot(ChartSize size, IReadOnlyList<BarRow> rows, string axis)
    {
        var plot = PlotFrame.New(size);
        var labels = new NumericManual();
        double most = rows.Max(Reach);
        double least = Math.Min(0, rows.Min(r => Math.Min(r.Interval?.Low ?? 0, r.Parts.Min(p => Math.Min(p.From, p.To)))));
        most = most > least ? most : least + 1;
        for (int i = 0; i < rows.Count; i++)
        {
            labels.AddMajor(-i, Label(rows[i], size));
            Draw(plot, size, rows[i], -i);
        }

        // Room for the figures at the right: they do not scale with the data, so their share of the width is worked out from their length.
        double textPx = (rows.Max(r => r.Text.Length) * size.FontPx * 0.64) + GapPx;
        double labelPx = (rows.Max(r => Label(r, size).Split('\n').Max(l => l.Length)) * size.FontPx * 0.6) + 30;
        double share = Math.Clamp(textPx / Math.Max(size.WidthPx - labelPx, 1), 0.05, 0.7);
        plot.Axes.SetLimits(least, least + ((most - least) / (1 - share)), -rows.Count + 0.45, 0.55);
        plot.Axes.Left.TickGenerator = labels;
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(least, most, size.WidthPx > 500 ? 6 : 3);
        plot.Axes.Bottom.Label.Text = axis;
        plot.Grid.YAxisStyle.IsVisible = false;
        return plot;
    }

    // On one line, else on two, else cut.
    private static string Label(BarRow row, ChartSize size)
    {
        string whole = row.Label;
        int most = size.LabelCharacters;
        if (whole.Length <= most)
        {
            return whole;
        }

        int blank = whole.LastIndexOf(' ', Math.Min(most, whole.Length - 1));
        return blank > 0 && whole.Length - blank - 1 <= most
            ? $"{whole[..blank]}\n{whole[(blank + 1)..]}"
            : PlotFrame.Cut(row.Name, size with { LabelCharacters = Math.Max(4, most - row.Suffix.Length) }) + row.Suffix;
    }

    private static double Reach(BarRow row) => Math.Max(
        Math.Max(row.Interval?.High ?? 0, row.Dots.DefaultIfEmpty(0).Max()), row.Parts.Max(p => Math.Max(p.From, p.To)));

    private static void Draw(Plot plot, ChartSize size, BarRow row, double at)
    {
        foreach (var part in row.Parts)
        {
            var box =
                plot.Add.Rectangle(new CoordinateRect(Math.Min(part.From, part.To), Math.Max(part.From, part.To), at - 0.32, at + 0.32));
            box.FillColor = part.Fill;
            box.LineColor = part.Edge;
            box.LineWidth = 1;
        }

        if (row.Interval is { } interval)
        {
            Stroke(plot, interval.Low, at, interval.High, at);
            Stroke(plot, interval.Low, at - 0.14, interval.Low, at + 0.14);
            Stroke(plot, interval.High, at - 0.14, interval.High, at + 0.14);
        }

        for (int i = 0; i < row.Dots.Count; i++)
        {
            // Spread over the bar's height, so that equal runs stay visible beside each other.
            double offset = row.Dots.Count == 1 ? 0.2 : 0.44 * (((double)i / (row.Dots.Count - 1)) - 0.5);
            var dot = plot.Add.Marker(row.Dots[i], at - offset, MarkerShape.FilledCircle, size.FontPx * 0.55f, Colors.White);
            dot.MarkerStyle.OutlineColor = Palette.Ink;
            dot.MarkerStyle.OutlineWidth = 1.4f;
        }

        var text = plot.Add.Text(row.Text, Reach(row), at);
        text.OffsetX = 0.7f * GapPx;
        text.OffsetY = 1;
        text.LabelFontName = ChartFont.Family;
        text.LabelFontSize = size.FontPx;
        text.LabelFontColor = Palette.Ink;
        text.LabelAlignment = Alignment.MiddleLeft;
    }

    private static void Stroke(Plot plot, double x1, double y1, double x2, double y2)
    {
        var line = plot.Add.Line(x1, y1, x2, y2);
        line.LineColor = Palette.Ink;
        line.LineWidth = 1.6f;
        line.MarkerSize = 0;
    }
}
