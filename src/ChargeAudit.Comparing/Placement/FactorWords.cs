using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>Factors in words.</summary>
public static class FactorWords
{
    /// <summary>A factor's name for people.</summary>
    /// <param name="factor">The factor.</param>
    public static string Of(Factor factor) => factor switch
    {
        Factor.OffsetX => "offset x",
        Factor.OffsetY => "offset y",
        Factor.Gap => "gap",
        Factor.Rotation => "rotation",
        Factor.PowerLevel => "power level",
        Factor.Temperature => "temperature",
        _ => "case",
    };

    /// <summary>Whether a factor says how far off the device lies.</summary>
    /// <param name="factor">The factor.</param>
    public static bool IsOffset(Factor factor) => factor is Factor.OffsetX or Factor.OffsetY;

    /// <summary>A value of a factor with its unit: <c>4 mm</c>.</summary>
    /// <param name="factor">The factor.</param>
    /// <param name="value">The value.</param>
    public static string Value(Factor factor, double value) => Prose.Of($"{value:0.###} {RunFactors.UnitOf(factor)}");

    /// <summary>A position: <c>(4, 0) mm</c>.</summary>
    /// <param name="xMm">Offset along the first direction. [mm]</param>
    /// <param name="yMm">Offset along the second direction. [mm]</param>
    public static string Position(double xMm, double yMm) => Prose.Of($"({xMm:0.##}, {yMm:0.##}) mm");
}
