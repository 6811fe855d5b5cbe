using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>A name on a strip, where it fits and nothing crosses it.</summary>
internal static class StripName
{
    /// <summary>Writes it, or leaves it out.</summary>
    /// <param name="plot">The chart.</param>
    /// <param name="size">Its size.</param>
    /// <param name="name">The name.</param>
    /// <param name="place">The piece of the strip that it names.</param>
    /// <param name="span">Length of the whole axis, in its unit.</param>
    /// <param name="marks">What is drawn across the strip: from where to where.</param>
    /// <param name="color">Its colour.</param>
    public static void Write(Plot plot, ChartSize size, string name, CoordinateRect place, double span,
        IReadOnlyList<(double From, double To)> marks, Color color)
    {
        var (from, to) = Widest(place.Left, place.Right, marks);
        if ((to - from) / span * size.WidthPx * 0.85 <= name.Length * size.FontPx * 0.66)
        {
            return;
        }

        var label = plot.Add.Text(name, 0.5 * (from + to), place.VerticalCenter);
        label.LabelFontName = ChartFont.Family;
        label.LabelFontSize = size.FontPx - 1;
        label.LabelFontColor = color;
        label.LabelAlignment = Alignment.MiddleCenter;
        label.OffsetY = 1;
    }

    /// <summary>The longest stretch between marks.</summary>
    internal static (double From, double To) Widest(double start, double end, IReadOnlyList<(double From, double To)> marks)
    {
        double[] from = [start, .. marks.Select(m => Math.Clamp(m.To, start, end)).Order()];
        double[] to = [.. marks.Select(m => Math.Clamp(m.From, start, end)).Order(), end];
        return from.Zip(to).MaxBy(s => s.Second - s.First);
    }
}
