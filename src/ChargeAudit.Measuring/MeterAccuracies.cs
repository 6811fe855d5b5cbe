using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>Turns what a study says about a meter into what the uncertainty calculation needs.</summary>
internal static class MeterAccuracies
{
    /// <summary>The steps of a log's readings: those that the log shows, or that the data sheet states, whichever is coarser.</summary>
    public static Dictionary<LogQuantity, double> Steps(LogLayout layout, IReadOnlyDictionary<LogQuantity, MeterAccuracy> accuracies)
    {
        var steps = new Dictionary<LogQuantity, double>();
        foreach (var quantity in layout.Resolution.Keys.Union(accuracies.Keys))
        {
            double stated = accuracies.TryGetValue(quantity, out var accuracy) ? accuracy.Resolution ?? 0 : 0;
            double step = Math.Max(stated, layout.Resolution.GetValueOrDefault(quantity, 0));
            if (step > 0)
            {
                steps.Add(quantity, step);
            }
        }

        return steps;
    }

    /// <summary>The basis of power, in the words of the uncertainty calculation.</summary>
    public static PowerBasis Basis(Integration.PowerSource source) => source switch
    {
        Integration.PowerSource.PowerColumn => PowerBasis.PowerColumn,
        Integration.PowerSource.DirectCurrentProduct => PowerBasis.VoltageTimesCurrent,
        Integration.PowerSource.ProductWithPowerFactor => PowerBasis.VoltageTimesCurrentTimesPowerFactor,
        Integration.PowerSource.ApparentWithPowerFactor => PowerBasis.ApparentPowerTimesPowerFactor,
        Integration.PowerSource.EnergyCounter => PowerBasis.EnergyCounter,
        _ => throw new ArgumentOutOfRangeException(nameof(source)),
    };
}
