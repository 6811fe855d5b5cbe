using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>The units in which data sheets state the fixed part of an accuracy.</summary>
internal static class MeterUnits
{
    /// <summary>Coherent units in one of the unit named; null where that is not a unit of the quantity.</summary>
    internal static double? Factor(string unit, LogQuantity quantity) =>
        (unit.Length > 0 || quantity == LogQuantity.PowerFactor) && !(quantity == LogQuantity.PowerFactor && unit is not ("" or "1"))
            && UnitTable.TryFind(unit, KindOf(quantity), out var found) ? found.Factor : null;

    /// <summary>The usual symbol.</summary>
    internal static string Symbol(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => "V",
        LogQuantity.Current => "A",
        LogQuantity.Power => "W",
        LogQuantity.ApparentPower => "VA",
        LogQuantity.PowerFactor => "",
        LogQuantity.Energy => "Wh",
        LogQuantity.Charge => "Ah",
        LogQuantity.Temperature => "°C",
        LogQuantity.Frequency => "Hz",
        _ => "s",
    };

    /// <summary>What to write, in words.</summary>
    internal static string Named(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => "volts (V, mV, µV)",
        LogQuantity.Current => "amperes (A, mA, µA)",
        LogQuantity.Power => "watts (W, mW, kW)",
        LogQuantity.ApparentPower => "volt-amperes (VA, mVA)",
        LogQuantity.PowerFactor => "a plain number",
        LogQuantity.Energy => "watt-hours (Wh, mWh, kWh) or joules (J)",
        LogQuantity.Charge => "ampere-hours (Ah, mAh) or coulombs (C)",
        LogQuantity.Temperature => "kelvins (K) or degrees Celsius (°C)",
        LogQuantity.Frequency => "hertz (Hz, mHz)",
        _ => "seconds (s, ms)",
    };

    private static UnitKind KindOf(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => UnitKind.Voltage,
        LogQuantity.Current => UnitKind.Current,
        LogQuantity.Power => UnitKind.Power,
        LogQuantity.ApparentPower => UnitKind.ApparentPower,
        LogQuantity.PowerFactor => UnitKind.Ratio,
        LogQuantity.Energy => UnitKind.Energy,
        LogQuantity.Charge => UnitKind.Charge,
        LogQuantity.Temperature => UnitKind.Temperature,
        LogQuantity.Frequency => UnitKind.Frequency,
        _ => UnitKind.Time,
    };
}
