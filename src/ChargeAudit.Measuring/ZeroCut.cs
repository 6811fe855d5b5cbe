using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Figures that cannot be told from zero, and intervals where power flows one way only: a negative true value is impossible there, so the
/// interval ends at zero. Value, standard uncertainty and factor stay as they are, so that whatever is worked out from the figure is right
/// on average.
/// </summary>
internal static class ZeroCut
{
    /// <summary>The figure with its interval cut at zero, where it reaches below and power flows one way.</summary>
    /// <remarks>An interval that lies below zero as a whole contradicts the stated accuracy; it is left as it is.</remarks>
    public static Measured Of(Measured figure, bool flowsOneWay)
    {
        if (!flowsOneWay || figure.IsFarFromZero || figure.Interval() is not { Low: < 0, High: >= 0 })
        {
            return figure;
        }

        return figure.WithInterval(coverage =>
        {
            double k = CoverageFactor.Of(figure.Components, coverage);
            double half = k * figure.StandardUncertainty!.Value;
            return new CoverageInterval(Math.Max(0, figure.Value - half), Math.Max(0, figure.Value + half), coverage, k);
        });
    }

    /// <inheritdoc cref="Of(Measured, bool)"/>
    public static Measured At(MeasuringPoint point, Measured figure) => Of(figure, point is MeasuringPoint.Wall or MeasuringPoint.Usb);

    /// <summary>Whether the interval of a figure reaches zero. False where it has no interval.</summary>
    public static bool ReachesZero(Measured figure) =>
        !figure.IsFarFromZero && figure.Interval() is { Low: <= 0, High: >= 0 } && figure.StandardUncertainty > 0;
}
