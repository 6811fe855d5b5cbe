using ChargeAudit.Analysis.Segmentation;
using ChargeAudit.Reports.Text;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Marks the parts of a charge on its strip of modes.</summary>
internal static class DetailMarks
{
    /// <summary>Draws a line where a part begins and its name where there is room.</summary>
    /// <param name="plot">The chart.</param>
    /// <param name="size">Its size.</param>
    /// <param name="details">The parts.</param>
    /// <param name="shiftS">What counts as zero. [s]</param>
    /// <param name="strip">The strip of the method; its left and right are the time axis' ends.</param>
    public static void Draw(Plot plot, ChartSize size, IReadOnlyList<ModeDetail> details, double shiftS, CoordinateRect strip)
    {
        double span = strip.Right - strip.Left;
        foreach (var detail in details)
        {
            double start = Math.Max(strip.Left, detail.StartS - shiftS);
            double end = Math.Min(strip.Right, detail.EndS - shiftS);
            if (end <= start)
            {
                continue;
            }

            bool burst = detail.Kind is ModeDetailKind.TopUp or ModeDetailKind.Attempt;
            var box = plot.Add.Rectangle(new CoordinateRect(start, end, strip.Bottom, strip.Top));
            box.FillColor = Colors.White.WithAlpha(Lightness(detail.Kind));
            box.LineColor = burst ? Palette.Ink : Colors.White;
            box.LineWidth = 1;
            string name = Words.Detail(detail.Kind);
            if (!burst && (end - start) / span * size.WidthPx * 0.85 > name.Length * size.FontPx * 0.66)
            {
                var label = plot.Add.Text(name, 0.5 * (start + end), strip.VerticalCenter);
                label.LabelFontName = ChartFont.Family;
                label.LabelFontSize = size.FontPx - 1;
                label.LabelFontColor = Lightness(detail.Kind) > 0.3 ? Palette.Ink : Colors.White;
                label.LabelAlignment = Alignment.MiddleCenter;
                label.OffsetY = 1;
            }
        }
    }

    private static double Lightness(ModeDetailKind kind) => kind switch
    {
        ModeDetailKind.ConstantPower => 0,
        ModeDetailKind.Taper => 0.15,
        ModeDetailKind.Throttled => 0.45,
        ModeDetailKind.Pause => 0.8,
        _ => 0.6,
    };
}
