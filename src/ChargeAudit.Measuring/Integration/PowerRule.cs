using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Decides how real power is obtained from a log's columns. On alternating current voltage times current is apparent power, so it is never
/// taken alone there; on direct current a power column goes first, because with a pulsed current the product of two means is not the mean
/// product.
/// </summary>
public static class PowerRule
{
    /// <summary>A line that carries more than this is mains, not a charging line: extra-low voltage ends here. [V]</summary>
    /// <remarks><i>Source:</i> 60 V direct current as the border of extra-low voltage, common practice, no source.</remarks>
    public const double GreatestDirectVoltageV = 60;

    /// <summary>Chooses for a log at a point.</summary>
    /// <param name="file">Name of the log, for messages.</param>
    /// <param name="layout">Its columns.</param>
    /// <param name="point">Where the meter sat; null where it was not stated, then direct current is taken and the voltage checked while
    /// reading.</param>
    /// <exception cref="InputException">No combination of columns gives real power.</exception>
    public static PowerSource Choose(string file, LogLayout layout, MeasuringPoint? point)
    {
        bool product = layout.Has(LogQuantity.Voltage) && layout.Has(LogQuantity.Current);
        bool factor = layout.Has(LogQuantity.PowerFactor);
        if (layout.Has(LogQuantity.Power))
        {
            return PowerSource.PowerColumn;
        }

        if (product && point is not MeasuringPoint.Wall && !factor)
        {
            return PowerSource.DirectCurrentProduct;
        }

        // A cosine may be the displacement factor, and then the product is too high; a counter counts real energy.
        if (layout.DoubtedPowerFactor is not null && layout.Has(LogQuantity.Energy))
        {
            return PowerSource.EnergyCounter;
        }

        if (product && factor)
        {
            return PowerSource.ProductWithPowerFactor;
        }

        if (layout.Has(LogQuantity.ApparentPower) && factor)
        {
            return PowerSource.ApparentWithPowerFactor;
        }

        if (layout.Has(LogQuantity.Energy))
        {
            return PowerSource.EnergyCounter;
        }

        string columns = string.Join(", ", layout.Columns.Select(c => c.Header));
        throw new InputException(InputProblem.Unusable, product || layout.Has(LogQuantity.ApparentPower)
            ? $"{file}: its columns ({columns}) give only apparent power, and on the mains that is not the energy taken; log real power "
                + "(W), the power factor or an energy counter as well"
            : $"{file}: its columns ({columns}) give no power; a power column, voltage with current, or an energy counter is needed; name "
                + "them, here or in the study")
        { Remedy = Remedy.Columns };
    }

    /// <summary>Says in words how power is obtained.</summary>
    public static string Describe(PowerSource source) => source switch
    {
        PowerSource.PowerColumn => "power column",
        PowerSource.DirectCurrentProduct => "voltage × current (DC)",
        PowerSource.ProductWithPowerFactor => "voltage × current × power factor",
        PowerSource.ApparentWithPowerFactor => "apparent power × power factor",
        PowerSource.EnergyCounter => "energy counter",
        _ => throw new ArgumentOutOfRangeException(nameof(source)),
    };

    /// <summary>Real power of one sample; NaN where it cannot be told. [W]</summary>
    public static double PowerW(PowerSource source, in Sample sample) => source switch
    {
        PowerSource.PowerColumn => sample.PowerW,
        PowerSource.DirectCurrentProduct => sample.VoltageV * sample.CurrentA,
        PowerSource.ProductWithPowerFactor => sample.VoltageV * sample.CurrentA * sample.PowerFactor,
        PowerSource.ApparentWithPowerFactor => sample.ApparentPowerVA * sample.PowerFactor,
        _ => double.NaN,
    };
}
