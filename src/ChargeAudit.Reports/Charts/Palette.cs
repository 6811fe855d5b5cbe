using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring.Segmentation;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Colours that people with the usual kinds of colour blindness can tell apart; every use has a label or shape beside
/// it.</summary>
/// <remarks>
/// The first three hues are of the set of M. Okabe and K. Ito (2008); the others were chosen so that every pair stays at least 20 apart in
/// CIELAB for normal colour vision and under simulated protanopia and deuteranopia, and 3 : 1 against the card.
/// </remarks>
internal static class Palette
{
    private static readonly string[] Methods = ["#0072B2", "#D55E00", "#009E73", "#8A2E6B", "#7890A8", "#222222"];

    // The same on a dark card; page.css changes those that differ.
    private static readonly string[] MethodsOnDark = ["#2E8FCC", "#D55E00", "#009E73", "#D07FB5", "#7890A8", "#E7EAE5"];

    // Contrast of white on a fill that is a colour and no tint.
    private const double StrongFill = 2.6;

    private static bool OnDark => ChartLook.Current.Theme == ChartTheme.Dark;

    /// <summary>Text and axes.</summary>
    public static Color Ink => Color.FromHex(OnDark ? "#E7EAE5" : "#26302F");

    /// <summary>Grid lines.</summary>
    public static Color Grid => Color.FromHex(OnDark ? "#3A4445" : "#DDE1DC");

    /// <summary>The card that charts lie on.</summary>
    public static Color Card => Color.FromHex(OnDark ? "#1D2425" : "#FBFBF8");

    /// <summary>Energy that is lost.</summary>
    public static Color Loss { get; } = Color.FromHex("#C9A227");

    /// <summary>The colour of a method by its position.</summary>
    public static string Hex(int method) => (OnDark ? MethodsOnDark : Methods)[method % Methods.Length];

    /// <summary>The colour of a method by its position.</summary>
    public static Color Of(int method) => Color.FromHex(Hex(method));

    /// <summary>The colour of a method by its name.</summary>
    public static Color Of(AuditResult result, string method) =>
        Of(Math.Max(0, result.Methods.ToList().FindIndex(m => m.Name == method)));

    /// <summary>What shows where one colour lies over another that is opaque.</summary>
    public static Color Over(Color top, Color below)
    {
        double share = top.A / 255.0;
        return new Color(Mixed(top.R, below.R), Mixed(top.G, below.G), Mixed(top.B, below.B));

        byte Mixed(byte a, byte b) => (byte)Math.Round((share * a) + ((1 - share) * b));
    }

    /// <summary>The colour of small text on a fill: white, ink or, where neither stands out by 4.5 : 1, black. *Source:* WCAG 2.2,
    /// 1.4.3.</summary>
    /// <param name="fill">What it is drawn on, opaque.</param>
    /// <remarks>On a fill that is strong itself ink gives way to black: a dark page turns ink light, and such a fill stays.</remarks>
    public static Color TextOn(Color fill) => Contrast(Colors.White, fill) switch
    {
        >= 4.5 => Colors.White,
        >= StrongFill => Colors.Black,
        _ => Contrast(Ink, fill) >= 4.5 ? Ink : Colors.Black,
    };

    /// <summary>The colour of small text on a fill that hides the card and so stays as it is on a dark page, where ink turns light: white
    /// or black. *Source:* WCAG 2.2, 1.4.3.</summary>
    /// <param name="fill">What it is drawn on, opaque.</param>
    public static Color TextOnOpaque(Color fill) => Contrast(Colors.White, fill) >= 4.5 ? Colors.White : Colors.Black;

    /// <summary>Contrast of two opaque colours. *Source:* WCAG 2.2, definition of contrast ratio.</summary>
    public static double Contrast(Color a, Color b)
    {
        double first = Luminance(a) + 0.05, second = Luminance(b) + 0.05;
        return Math.Max(first, second) / Math.Min(first, second);
    }

    private static double Luminance(Color color)
    {
        return (0.2126 * Linear(color.R)) + (0.7152 * Linear(color.G)) + (0.0722 * Linear(color.B));

        static double Linear(byte value) => value / 255.0 is var c && c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    }

    /// <summary>How strongly a mode is filled with its method's colour.</summary>
    public static double Strength(Mode mode) => mode switch
    {
        Mode.Charge => 0.95,
        Mode.Maintenance => 0.55,
        Mode.NoLoad => 0.25,
        _ => 0.06,
    };
}
