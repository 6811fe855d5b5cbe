using MathNet.Numerics;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>An error that lies between two limits, symmetric about zero.</summary>
/// <param name="Shape">Rectangular, triangular or arcsine.</param>
/// <param name="StandardUncertainty">Its standard deviation.</param>
internal readonly record struct BoundedError(ErrorShape Shape, double StandardUncertainty)
{
    /// <summary>The limit.</summary>
    internal double HalfWidth => StandardUncertainty * Shape switch
    {
        ErrorShape.Triangular => Math.Sqrt(6),
        ErrorShape.Arcsine => Math.Sqrt(2),
        _ => Math.Sqrt(3),
    };

    /// <summary>Half-width of the symmetric interval that holds the error with a probability.</summary>
    internal double HalfWidthHolding(double coverage) => HalfWidth * Shape switch
    {
        ErrorShape.Triangular => 1 - Math.Sqrt(1 - coverage),
        ErrorShape.Arcsine => Math.Sin(0.5 * Math.PI * coverage),
        _ => coverage,
    };

    /// <summary>The characteristic function: the mean of cos(<paramref name="t"/>·error).</summary>
    /// <param name="t">Above zero. [1/unit of the error]</param>
    internal double Characteristic(double t)
    {
        double phase = t * HalfWidth;
        return Shape switch
        {
            // The sum of two rectangular errors of half its limit.
            ErrorShape.Triangular => Math.Pow(Math.Sin(0.5 * phase) / (0.5 * phase), 2),
            ErrorShape.Arcsine => SpecialFunctions.BesselJ(0, phase),
            _ => Math.Sin(phase) / phase,
        };
    }
}
