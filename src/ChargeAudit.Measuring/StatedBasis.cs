using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Which stated accuracies an energy's interval follows from. A meter for direct current forms its power from its own voltage and current,
/// so where the data sheet states only those, a power column errs as their product does, and where it states only power, their product errs
/// as the power does. On alternating current voltage and current leave the phase open: there power follows from them only with a stated
/// power factor; where the data sheet states power and its phase error, their product errs as that power. Where this gives no answer, the
/// basis stays with the log's own columns, and the reason is given.
/// </summary>
internal static class StatedBasis
{
    /// <summary>The basis for the uncertainty of a log's energy.</summary>
    /// <param name="source">How power was obtained.</param>
    /// <param name="accuracies">What the meter's data sheet states.</param>
    /// <param name="hasProduct">Whether the log holds voltage and current.</param>
    /// <param name="hasFactor">Whether it holds the power factor.</param>
    /// <param name="direct">Whether it is direct current.</param>
    /// <param name="phase">Whether a phase error is stated, which comes on top.</param>
    public static PowerBasis Of(
        PowerSource source, IReadOnlyDictionary<LogQuantity, MeterAccuracy> accuracies, bool hasProduct, bool hasFactor, bool direct,
        bool phase = false)
    {
        bool power = accuracies.ContainsKey(LogQuantity.Power);
        bool product = accuracies.ContainsKey(LogQuantity.Voltage) && accuracies.ContainsKey(LogQuantity.Current);
        return source switch
        {
            PowerSource.PowerColumn when !power && product && hasProduct && direct => PowerBasis.VoltageTimesCurrent,
            PowerSource.PowerColumn when !power && product && hasProduct && hasFactor && accuracies.ContainsKey(LogQuantity.PowerFactor) =>
                PowerBasis.VoltageTimesCurrentTimesPowerFactor,
            PowerSource.ProductWithPowerFactor or PowerSource.ApparentWithPowerFactor when phase && power
                && !accuracies.ContainsKey(LogQuantity.PowerFactor) => PowerBasis.PowerColumn,
            PowerSource.DirectCurrentProduct when !product && power => PowerBasis.PowerColumn,
            _ => MeterAccuracies.Basis(source),
        };
    }
}
