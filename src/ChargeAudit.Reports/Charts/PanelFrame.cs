using ScottPlot;
using SkiaSharp;

namespace ChargeAudit.Reports.Charts;

/// <summary>Plots that share their horizontal axis, one above the other in one picture.</summary>
internal static class PanelFrame
{
    private const int TitlePx = 30;
    private const int LegendPx = 30;

    /// <summary>Width of the strip left of the data, the same in all panels so that their frames line up. [px]</summary>
    private const int LeftPx = 90;

    /// <summary>A drawn chart.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="title">Its title.</param>
    /// <param name="alternative">What it shows, in words.</param>
    /// <param name="wide">Room for one panel on wide screens.</param>
    /// <param name="narrow">Room for one panel on narrow screens.</param>
    /// <param name="draw">Draws the panels for a size, the uppermost first.</param>
    /// <param name="note">A remark for whoever looks at it.</param>
    public static Chart Render(string key, string title, string alternative, ChartSize wide, ChartSize narrow,
        Func<ChartSize, IReadOnlyList<Plot>> draw, string note)
    {
        var panels = draw(wide);
        string wideSvg = SvgText.Clean(Svg(panels, wide, null), key + "-w");
        string narrowSvg = SvgText.Clean(Svg(draw(narrow), narrow, null), key + "-n");
        return new Chart(key, title, alternative, wideSvg, narrowSvg, SvgText.Clean(Svg(panels, wide, title), key + "-f"),
            Png(panels, wide, title), note);
    }

    private static string Svg(IReadOnlyList<Plot> panels, ChartSize size, string? title)
    {
        using var stream = new MemoryStream();
        using (var canvas = SKSvgCanvas.Create(new SKRect(0, 0, size.WidthPx, Height(panels, size, title)), stream))
        {
            Draw(canvas, panels, size, title);
        }

        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    private static byte[] Png(IReadOnlyList<Plot> panels, ChartSize size, string? title)
    {
        using var surface = SKSurface.Create(new SKImageInfo(size.WidthPx, Height(panels, size, title)));
        Draw(surface.Canvas, panels, size, title);
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static int Height(IReadOnlyList<Plot> panels, ChartSize size, string? title) =>
        (panels.Count * size.HeightPx) + LegendPx + (title is null ? 0 : TitlePx);

    private static void Draw(SKCanvas canvas, IReadOnlyList<Plot> panels, ChartSize size, string? title)
    {
        canvas.Clear(Palette.Card.ToSKColor());
        int top = 0;
        for (int i = 0; i < panels.Count; i++)
        {
            var plot = panels[i];
            plot.RenderManager.ClearCanvasBeforeEachRender = false;
            plot.Axes.Left.MinimumSize = plot.Axes.Left.MaximumSize = LeftPx;
            plot.Axes.Title.Label.Text = i == 0 ? title ?? "" : "";
            plot.Axes.Title.IsVisible = i == 0 && title is not null;
            plot.Axes.Title.Label.FontName = ChartFont.Family;
            plot.Axes.Title.Label.FontSize = size.FontPx + 2;
            plot.Axes.Title.Label.Bold = false;
            plot.Axes.Title.Label.ForeColor = Palette.Ink;

            // Title and legend stand above the first panel and take no room from the data.
            int height = size.HeightPx + (i == 0 ? LegendPx + (title is null ? 0 : TitlePx) : 0);
            plot.Render(canvas, new PixelRect(0, size.WidthPx, top + height, top));
            top += height;
        }
    }
}
