using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// The colours of a map: from pale yellow (good) over grey-blue to dark blue (bad). Lightness falls all the way, so that the scale also
/// reads in grey and with any kind of colour blindness.
/// </summary>
/// <param name="lowIsGood">Whether low values are the good ones.</param>
internal sealed class MapColors(bool lowIsGood) : IColormap
{
    private static readonly (double R, double G, double B)[] Stops = [(255, 240, 184), (214, 205, 150), (139, 163, 160), (72, 108, 138),
        (20, 44, 84)];

    public string Name => "yellow to blue";

    public Color GetColor(double position)
    {
        double p = Math.Clamp(lowIsGood ? position : 1 - position, 0, 1) * (Stops.Length - 1);
        int i = Math.Min((int)p, Stops.Length - 2);
        double f = p - i;
        var (a, b) = (Stops[i], Stops[i + 1]);
        byte Mix(double from, double to) => (byte)Math.Round(from + (f * (to - from)));
        return new Color(Mix(a.R, b.R), Mix(a.G, b.G), Mix(a.B, b.B));
    }
}
