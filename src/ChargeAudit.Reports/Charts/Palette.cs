using ChargeAudit.Analysis.Segmentation;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>Colours that people with the usual kinds of colour blindness can tell apart; every use has a label or shape beside it.</summary>
/// <remarks>
/// The first three hues are of the set of M. Okabe and K. Ito (2008); the others were chosen so that every pair stays at least 20 apart in
/// CIELAB for the usual eye and under simulated protanopia and deuteranopia, and 3 : 1 against the card.
/// </remarks>
internal static class Palette
{
    private static readonly string[] Methods = ["#0072B2", "#D55E00", "#009E73", "#8A2E6B", "#7890A8", "#222222"];

    /// <summary>Text and axes.</summary>
    public static Color Ink { get; } = Color.FromHex("#26302F");

    /// <summary>Grid lines.</summary>
    public static Color Grid { get; } = Color.FromHex("#DDE1DC");

    /// <summary>The card that charts lie on, in the light and in the dark.</summary>
    public static Color Card { get; } = Color.FromHex("#FBFBF8");

    /// <summary>Energy that is lost.</summary>
    public static Color Loss { get; } = Color.FromHex("#C9A227");

    /// <summary>The colour of a method by its position.</summary>
    public static string Hex(int method) => Methods[method % Methods.Length];

    /// <summary>The colour of a method by its position.</summary>
    public static Color Of(int method) => Color.FromHex(Hex(method));

    /// <summary>How strongly a mode is filled with its method's colour.</summary>
    public static double Strength(Mode mode) => mode switch
    {
        Mode.Charge => 0.95,
        Mode.Maintenance => 0.55,
        Mode.NoLoad => 0.25,
        _ => 0.06,
    };
}
