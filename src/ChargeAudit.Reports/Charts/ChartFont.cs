using ChargeAudit.Reports.Files;
using ScottPlot;
using SkiaSharp;

namespace ChargeAudit.Reports.Charts;

/// <summary>The font that charts are drawn with. It is shipped, because a machine may have none, and charts would then silently lose their
/// text.</summary>
internal static class ChartFont
{
    /// <summary>The family's name, in charts and in the page.</summary>
    public const string Family = "ReportSans";

    private static readonly Lock Gate = new();
    private static readonly Lazy<SKTypeface> Face = new(() => SKTypeface.FromData(SKData.CreateCopy(Asset.Bytes("Fonts.DejaVuSans.ttf"))));

    /// <summary>Makes the font known to the plotting library; costs nothing after the first time.</summary>
    public static void Register()
    {
        lock (Gate)
        {
            if (!Fonts.FontResolvers.OfType<Resolver>().Any())
            {
                Fonts.FontResolvers.Insert(0, new Resolver(Face.Value));
            }
        }
    }

    /// <summary>Writes a line of text about the middle of a place.</summary>
    public static void Draw(SKCanvas canvas, string text, float centreX, float baselineY, float sizePx)
    {
        using var font = new SKFont(Face.Value, sizePx);
        using var paint = new SKPaint { Color = Palette.Ink.ToSKColor(), IsAntialias = true };
        canvas.DrawText(text, centreX, baselineY, SKTextAlign.Center, font, paint);
    }

    private sealed class Resolver(SKTypeface typeface) : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            fontName == Family ? typeface : null;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => fontName == Family ? typeface : null;
    }
}
