using ScottPlot;
using SkiaSharp;

namespace ChargeAudit.Reports.Charts;

/// <summary>Plots of one shape side by side in one picture; one below the other on a narrow screen.</summary>
internal static class MapFrame
{
    private const int TitlePx = 28;
    private const int MostAcross = 2;

    /// <summary>A drawn chart.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="title">Its title.</param>
    /// <param name="alternative">What it shows, in words.</param>
    /// <param name="wide">Room for one plot on wide screens.</param>
    /// <param name="narrow">Room for one plot on narrow screens.</param>
    /// <param name="draw">Draws the plots for a size.</param>
    /// <param name="note">A remark for whoever looks at it.</param>
    public static Chart Render(string key, string title, string alternative, ChartSize wide, ChartSize narrow,
        Func<ChartSize, IReadOnlyList<Plot>> draw, string note)
    {
        // A map's colours are its values, and figures are drawn on them: it stays on a light card.
        var look = ChartLook.Current with { Theme = ChartTheme.Light };
        using var light = look.Use();
        int widthPx = look.WidthPx ?? ChartSize.Wide.WidthPx;
        wide = wide.WidthPx > widthPx ? (widthPx < wide.WidthPx / 2 ? narrow : wide) with { WidthPx = widthPx } : wide;
        var plots = draw(wide);
        string wideSvg = SvgText.Clean(Svg(plots, wide, widthPx, null), key + "-w");
        string narrowSvg = SvgText.Clean(Svg(draw(narrow), narrow, narrow.WidthPx, null), key + "-n");
        string fileSvg = SvgText.Clean(Svg(plots, wide, widthPx, title), key + "-f");
        return new Chart(key, title, alternative, wideSvg, narrowSvg, fileSvg, Png(plots, wide, widthPx, title, look.Scale), note)
        {
            StaysLight = true,
        };
    }

    private static string Svg(IReadOnlyList<Plot> plots, ChartSize size, int widthPx, string? title)
    {
        using var stream = new MemoryStream();
        using (var canvas = SKSvgCanvas.Create(new SKRect(0, 0, widthPx, Height(plots, size, widthPx, title)), stream))
        {
            Draw(canvas, plots, size, widthPx, title);
        }

        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    private static byte[] Png(IReadOnlyList<Plot> plots, ChartSize size, int widthPx, string? title, double scale)
    {
        using var surface = SKSurface.Create(
            new SKImageInfo((int)(widthPx * scale), (int)(Height(plots, size, widthPx, title) * scale)));
        surface.Canvas.Scale((float)scale);
        Draw(surface.Canvas, plots, size, widthPx, title);
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static int Across(IReadOnlyList<Plot> plots, ChartSize size, int widthPx) =>
        Math.Clamp(widthPx / size.WidthPx, 1, Math.Min(MostAcross, plots.Count));

    private static int Height(IReadOnlyList<Plot> plots, ChartSize size, int widthPx, string? title)
    {
        int across = Across(plots, size, widthPx);
        return ((plots.Count + across - 1) / across * size.HeightPx) + (title is null ? 0 : TitlePx);
    }

    private static void Draw(SKCanvas canvas, IReadOnlyList<Plot> plots, ChartSize size, int widthPx, string? title)
    {
        canvas.Clear(Palette.Card.ToSKColor());
        int across = Across(plots, size, widthPx);
        int left = (widthPx - (across * size.WidthPx)) / 2, top = 0;
        if (title is not null)
        {
            ChartFont.Draw(canvas, title, 0.5f * widthPx, TitlePx - 8, size.FontPx + 2);
            top = TitlePx;
        }

        for (int i = 0; i < plots.Count; i++)
        {
            plots[i].RenderManager.ClearCanvasBeforeEachRender = false;
            int x = left + (i % across * size.WidthPx), y = top + (i / across * size.HeightPx);
            plots[i].Render(canvas, new PixelRect(x, x + size.WidthPx, y + size.HeightPx, y));
        }
    }
}
