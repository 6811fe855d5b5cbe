using ChargeAudit.Measuring.Segmentation;
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
    /// <param name="below">What shows below them, opaque.</param>
    public static void Draw(Plot plot, ChartSize size, IReadOnlyList<ModeDetail> details, double shiftS, CoordinateRect strip, Color below)
    {
        foreach (var detail in details)
        {
            double start = Math.Max(strip.Left, detail.StartS - shiftS);
            double end = Math.Min(strip.Right, detail.EndS - shiftS);
            if (end <= start)
            {
                continue;
            }

            bool burst = IsBurst(detail.Kind);
            var place = new CoordinateRect(start, end, strip.Bottom, strip.Top);
            var box = plot.Add.Rectangle(place);
            box.FillColor = Colors.White.WithAlpha(Lightness(detail.Kind));
            box.LineColor = burst ? Palette.Ink : Colors.White;
            box.LineWidth = 1;
            if (!burst)
            {
                StripName.Write(plot, size, Words.Detail(detail.Kind), place, strip.Right - strip.Left, Bursts(details, shiftS),
                    Palette.TextOnOpaque(Palette.Over(box.FillColor, below)));
            }
        }
    }

    /// <summary>From where to where the short marks of bursts run.</summary>
    /// <param name="details">The parts.</param>
    /// <param name="shiftS">What counts as zero. [s]</param>
    public static IReadOnlyList<(double From, double To)> Bursts(IReadOnlyList<ModeDetail> details, double shiftS) =>
        [.. details.Where(d => IsBurst(d.Kind)).Select(d => (d.StartS - shiftS, d.EndS - shiftS))];

    private static bool IsBurst(ModeDetailKind kind) => kind is ModeDetailKind.TopUp or ModeDetailKind.Attempt;

    private static double Lightness(ModeDetailKind kind) => kind switch
    {
        ModeDetailKind.ConstantPower => 0,
        ModeDetailKind.Taper => 0.15,
        ModeDetailKind.Throttled => 0.45,
        ModeDetailKind.Pause or ModeDetailKind.Hold => 0.8,
        _ => 0.6,
    };
}
