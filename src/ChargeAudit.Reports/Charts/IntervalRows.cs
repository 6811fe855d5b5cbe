using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>One row of a chart of points with intervals.</summary>
/// <param name="Name">What it is; at the left.</param>
/// <param name="Text">Its figure in words; at the right.</param>
/// <param name="Value">The point; null where only the interval is drawn.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end.</param>
internal sealed record IntervalRow(string Name, string Text, double? Value, double Low, double High)
{
    /// <summary>Share of the greatest point's size that this one has, 0 to 1.</summary>
    public double Size { get; init; } = 0.5;

    /// <summary>Whether it sums up the rows above: drawn as a diamond in another colour, below a line.</summary>
    public bool IsSum { get; init; }
}

/// <summary>Points with intervals, one row each: labels stay readable on a narrow screen.</summary>
internal static class IntervalRows
{
    private const int RowPx = 28;
    private const int FramePx = 70;

    public static ChartSize Fit(ChartSize size, int rows) => size.High(FramePx + (rows * RowPx));

    /// <summary>Draws the rows from top to bottom.</summary>
    /// <param name="size">The room.</param>
    /// <param name="rows">The rows.</param>
    /// <param name="axis">Name of the axis with its unit.</param>
    /// <param name="line">Where a line of no difference is drawn; null: nowhere.</param>
    public static Plot Plot(ChartSize size, IReadOnlyList<IntervalRow> rows, string axis, double? line)
    {
        var plot = PlotFrame.New(size);
        var labels = new NumericManual();
        double least = rows.Min(r => r.Low), most = rows.Max(r => r.High);

        // A line that lies far off would squeeze the rows together.
        line = line is { } given && given > least - (0.5 * (most - least)) && given < most + (0.5 * (most - least)) ? given : null;
        (least, most) = (Math.Min(least, line ?? least), Math.Max(most, line ?? most));
        double span = most > least ? most - least : Math.Max(Math.Abs(most), 1);
        least -= 0.03 * span;
        double textPx = (rows.Max(r => r.Text.Length) * size.FontPx * 0.62) + 12,
            labelPx = (Math.Min(size.LabelCharacters, rows.Max(r => r.Name.Length)) * size.FontPx * 0.6) + 30;
        double share = Math.Clamp(textPx / Math.Max(size.WidthPx - labelPx, 1), 0.05, 0.7), right = least
            + ((most - least + (0.03 * span)) / (1 - share));
        if (line is { } at)
        {
            var mark = plot.Add.VerticalLine(at, 1, Palette.Ink);
            mark.LinePattern = LinePattern.Dashed;
        }

        for (int i = 0; i < rows.Count; i++)
        {
            labels.AddMajor(-i, Label(rows[i].Name, size.LabelCharacters));
            Draw(plot, size, rows[i], -i, right);
        }

        int first = rows.ToList().FindIndex(r => r.IsSum);
        if (first > 0)
        {
            var border = plot.Add.HorizontalLine(-first + 0.5, 1, Palette.Ink);
            border.LinePattern = LinePattern.Dotted;
        }

        plot.Axes.SetLimits(least, right, -rows.Count + 0.4, 0.6);
        plot.Axes.Left.TickGenerator = labels;
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(least, most, size.WidthPx > 500 ? 6 : 4);
        plot.Axes.Bottom.Label.Text = axis;
        plot.Grid.YAxisStyle.IsVisible = false;
        return plot;
    }

    /// <summary>A name that fits: names of a family differ at their end, so what is cut is the middle.</summary>
    public static string Label(string name, int characters) => name.Length <= characters ? name
        : string.Concat(name.AsSpan(0, (characters - 1) / 2).TrimEnd(), "…",
            name.AsSpan(name.Length - (characters - 1 - ((characters - 1) / 2))).TrimStart());

    private static void Draw(Plot plot, ChartSize size, IntervalRow row, double at, double right)
    {
        var color = row.IsSum ? Palette.Of(1) : Palette.Of(0);
        var bar = plot.Add.Line(row.Low, at, row.High, at);
        bar.LineColor = color;
        bar.LineWidth = row.Value is null ? 5 : 2;
        bar.MarkerSize = 0;
        if (row.Value is { } value)
        {
            var point = plot.Add.Marker(value, at, row.IsSum
                ? MarkerShape.FilledDiamond
                : MarkerShape.FilledSquare, size.FontPx * (float)(0.4 + (0.8 * Math.Sqrt(row.Size))), color);
            point.MarkerStyle.OutlineColor = Palette.Card;
            point.MarkerStyle.OutlineWidth = 1;
        }

        var text = plot.Add.Text(row.Text, right, at);
        text.OffsetX = -4;
        text.OffsetY = 1;
        text.LabelFontName = ChartFont.Family;
        text.LabelFontSize = size.FontPx;
        text.LabelFontColor = Palette.Ink;
        text.LabelAlignment = Alignment.MiddleRight;
    }
}
