using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>Kinds of meters as the table of coverage tells them apart.</summary>
public static class MeterKind
{
    /// <summary>Words for the table.</summary>
    public static string Of(MeterSheet meter) => meter.Kind switch
    {
        RowKind.CounterOnly => meter.CounterStepWh < 0.5
            ? "counter only, fine steps (0.001 to 0.1 Wh)"
            : "counter only, coarse steps (1 Wh, 0.01 kWh)",
        RowKind.OnChange => "written on change",
        _ when meter.CounterStepWh > 0 => "power and counter",
        RowKind.Instantaneous => "instantaneous",
        RowKind.AverageEnding => "average, stamped at its end",
        _ => "average, stamped at its start",
    };
}
