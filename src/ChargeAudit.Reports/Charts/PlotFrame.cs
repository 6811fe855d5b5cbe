using System.Globalization;
using ChargeAudit.Metrology;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>What all charts have in common.</summary>
internal static class PlotFrame
{
    private const int TitlePx = 26;

    /// <summary>An empty plot in the report's style.</summary>
    public static Plot New(ChartSize size)
    {
        ChartFont.Register();
        var plot = new Plot();
        plot.Font.Set(ChartFont.Family);
        plot.FigureBackground.Color = Palette.Card;
        plot.DataBackground.Color = Palette.Card;
        plot.Axes.Color(Palette.Ink);
        plot.Grid.MajorLineColor = Palette.Grid;
        plot.Axes.Top.FrameLineStyle.IsVisible = false;
        plot.Axes.Right.FrameLineStyle.IsVisible = false;
        plot.Axes.Right.MinimumSize = 12;
        foreach (var axis in new IAxis[] { plot.Axes.Bottom, plot.Axes.Left })
        {
            axis.TickLabelStyle.FontSize = size.FontPx;
            axis.TickLabelStyle.FontName = ChartFont.Family;
            axis.Label.FontSize = size.FontPx;
            axis.Label.FontName = ChartFont.Family;
            axis.Label.Bold = false;
        }

        return plot;
    }

    /// <summary>Shows which colour is which, above the data.</summary>
    public static void Legend(Plot plot, ChartSize size, IEnumerable<(string Name, Color Color)> entries)
    {
        plot.Legend.FontName = ChartFont.Family;
        plot.Legend.FontSize = size.FontPx;
        plot.Legend.FontColor = Palette.Ink;
        plot.Legend.BackgroundColor = Palette.Card;
        plot.Legend.OutlineWidth = 0;
        plot.Legend.ShadowColor = Colors.Transparent;
        plot.Legend.TightHorizontalWrapping = true;
        plot.Legend.DisplayPlottableLegendItems = false;
        var list = entries.ToList();
        bool below = NeedsLines(size, list.Select(e => e.Name));
        foreach (var (name, color) in list)
        {
            plot.Legend.ManualItems.Add(new LegendItem
            {
                LabelText = Cut(name, below ? size with { LabelCharacters = LineCharacters(size) } : size),
                FillColor = color,
                LabelFontName = ChartFont.Family,
                LabelFontSize = size.FontPx,
            });
        }

        plot.Legend.Margin = new PixelPadding(0);
        plot.Legend.Padding = new PixelPadding(0, 0, 2, 8);
        plot.ShowLegend(Edge.Top).Padding = new PixelPadding(0);

        // Showing it at an edge resets its orientation.
        plot.Legend.Orientation = below ? Orientation.Vertical : Orientation.Horizontal;
    }

    /// <summary>A size with room for a legend of these names: where they do not fit side by side, each has a line.</summary>
    public static ChartSize WithLegend(ChartSize size, IEnumerable<string> names)
    {
        var list = names.ToList();
        return NeedsLines(size, list) ? size.High(size.HeightPx + (int)((list.Count - 1) * 1.45 * size.FontPx)) : size;
    }

    // The library leaves out what does not fit in one line, so the room is worked out before.
    private static bool NeedsLines(ChartSize size, IEnumerable<string> names) =>
        names.Sum(n => (Math.Min(n.Length, size.LabelCharacters) * 0.62 * size.FontPx) + (2.6 * size.FontPx)) > size.WidthPx - 70;

    private static int LineCharacters(ChartSize size) => Math.Max(8, (int)((size.WidthPx - 60) / (0.64 * size.FontPx)));

    /// <summary>A label that fits.</summary>
    public static string Cut(string label, ChartSize size) => label.Length <= size.LabelCharacters
        ? label
        : string.Concat(label.AsSpan(0, size.LabelCharacters - 1).TrimEnd(), "…");

    /// <summary>Marks at round values from zero up, about as many as asked for.</summary>
    public static NumericManual RoundTicks(double low, double high, int about)
    {
        var ticks = new NumericManual();
        foreach (var (position, label) in RoundNumbers(low, high, about))
        {
            ticks.AddMajor(position, label);
        }

        return ticks;
    }

    private static IEnumerable<(double Position, string Label)> RoundNumbers(double low, double high, int about)
    {
        double span = high - low;
        if (!(span > 0) || !double.IsFinite(span))
        {
            yield return (0, "0");
            yield break;
        }

        double rough = span / about;
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * (rough / power) switch { <= 1 => 1, <= 2 => 2, <= 2.5 => 2.5, <= 5 => 5, _ => 10 };
        for (long i = (long)Math.Ceiling((low / step) - 1e-9); i * step <= high + (1e-9 * step); i++)
        {
            yield return (i * step, Number(i * step, step));
        }
    }

    /// <summary>Marks at round times; the unit is hours, minutes or seconds by the length. Positions are in seconds.</summary>
    public static (NumericManual Ticks, string Unit) TimeTicks(double lowS, double highS, int about)
    {
        double span = highS - lowS;
        (double unitS, string unit) = span > 3 * 3600 ? (3600.0, "h") : span > 180 ? (60.0, "min") : (1.0, "s");
        var ticks = new NumericManual();
        foreach (var (position, label) in RoundNumbers(lowS / unitS, highS / unitS, about))
        {
            ticks.AddMajor(position * unitS, label);
        }

        return (ticks, unit);
    }

    /// <summary>A drawn chart from a function that draws it for a size.</summary>
    public static Chart Render(string key, string title, string alternative, ChartSize wide, ChartSize narrow, Func<ChartSize, Plot> draw,
        string? note = null)
    {
        using var direct = WrittenForm.UseDirectly();
        var look = ChartLook.Current;
        if (look.WidthPx is { } asked)
        {
            wide = (asked < (wide.WidthPx + narrow.WidthPx) / 2 ? narrow : wide) with { WidthPx = asked };
        }

        var wideForm = draw(wide);
        string wideSvg = SvgText.Clean(wideForm.GetSvgXml(wide.WidthPx, wide.HeightPx), key + "-w");
        string narrowSvg = SvgText.Clean(draw(narrow).GetSvgXml(narrow.WidthPx, narrow.HeightPx), key + "-n");

        // In the page the title stands above the chart; a file needs it inside.
        wideForm.Axes.Title.Label.Text = title;
        wideForm.Axes.Title.Label.FontName = ChartFont.Family;
        wideForm.Axes.Title.Label.FontSize = wide.FontPx + 2;
        wideForm.Axes.Title.Label.Bold = false;
        wideForm.Axes.Title.Label.ForeColor = Palette.Ink;
        int height = wide.HeightPx + TitlePx;
        string fileSvg = SvgText.Clean(wideForm.GetSvgXml(wide.WidthPx, height), key + "-f");
        wideForm.ScaleFactor = look.Scale;
        byte[] png = wideForm.GetImageBytes((int)(wide.WidthPx * look.Scale), (int)(height * look.Scale), ImageFormat.Png);
        return new Chart(key, title, alternative, wideSvg, narrowSvg, fileSvg, png, note);
    }

    private static string Number(double value, double step)
    {
        int places = Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 12);
        if (step < 10 && step / Math.Pow(10, Math.Floor(Math.Log10(step))) is > 2.4 and < 2.6)
        {
            places++;
        }

        return Math.Abs(value) < step * 1e-6
            ? "0"
            : WrittenMarks.Number(value.ToString("F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));
    }
}
