using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Whether the energy of a gap is the counter's advance or that of the bridge between its ends: the one with the smaller standard
/// uncertainty, before either value is looked at. Then both are compared: where they differ by more than both allow, the interval reaches
/// from one to the other.
/// </summary>
internal static class GapChoice
{
    /// <summary>Share of a rectangular distribution's half-width within which 95 % of it lies. [1]</summary>
    private const double Filled = 0.95;

    /// <summary>The gap with its energy chosen.</summary>
    /// <param name="gap">The gap with the energy of its bridge.</param>
    /// <param name="counterJ">The counter's advance over it. [J]</param>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    /// <param name="sustainedW">The most power that may have flowed. [W]</param>
    public static GapRecord Of(GapRecord gap, double counterJ, double stepJ, double sustainedW)
    {
        var both = gap with { CounterJ = counterJ };
        if (!double.IsFinite(stepJ))
        {
            return both;
        }

        double mostJ = Math.Max(sustainedW * gap.LengthS, gap.BridgeJ);
        both = both with { Contradicts = counterJ - stepJ > mostJ || counterJ + stepJ < 0 };
        return CounterU(stepJ) < BridgeU(gap, sustainedW) ? both with { EnergyJ = counterJ, FromCounter = true } : both;
    }

    /// <summary>Standard uncertainty of the energy put in for a gap, and its shape. [J]</summary>
    public static (double StandardJ, ErrorShape Shape) Uncertainty(GapRecord gap, double stepJ, double sustainedW)
    {
        var (u, shape) = gap.FromCounter ? (CounterU(stepJ), ErrorShape.Triangular) : (BridgeU(gap, sustainedW), ErrorShape.Rectangular);
        double apart = gap.Contradicts ? Math.Abs(gap.CounterJ - gap.BridgeJ) / (Filled * Math.Sqrt(3)) : 0;
        return apart > u ? (apart, ErrorShape.Rectangular) : (u, shape);
    }

    // Both readings are cut or rounded to the step, at phases that have nothing to do with each other.
    private static double CounterU(double stepJ) => stepJ / Math.Sqrt(6);

    // Anything from nothing to the highest sustained power may have flowed: a rectangular distribution whose middle need not be the
    // bridge's value.
    private static double BridgeU(GapRecord gap, double sustainedW)
    {
        double most = Math.Max(sustainedW * gap.LengthS, gap.BridgeJ);
        double off = (0.5 * most) - gap.BridgeJ;
        return Math.Sqrt((most * most / 12) + (off * off));
    }
}
