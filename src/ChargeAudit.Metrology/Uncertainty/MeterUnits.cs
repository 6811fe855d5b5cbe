using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>The units in which data sheets state the fixed part of an accuracy.</summary>
internal static class MeterUnits
{
    /// <summary>Coherent units in one of the unit named; null where it is none of the quantity.</summary>
    internal static double? Factor(string unit, MeterQuantity quantity) =>
        (unit.Length > 0 || quantity == MeterQuantity.PowerFactor) && !(quantity == MeterQuantity.PowerFactor && unit is not ("" or "1"))
            && UnitTable.TryFind(unit, KindOf(quantity), out var found) ? found.Factor : null;

    /// <summary>The usual symbol.</summary>
    internal static string Symbol(MeterQuantity quantity) => quantity switch
    {
        MeterQuantity.Voltage => "V",
        MeterQuantity.Current => "A",
        MeterQuantity.Power => "W",
        MeterQuantity.ApparentPower => "VA",
        MeterQuantity.PowerFactor => "",
        MeterQuantity.Energy => "Wh",
        MeterQuantity.Charge => "Ah",
        _ => "s",
    };

    /// <summary>What to write, in words.</summary>
    internal static string Named(MeterQuantity quantity) => quantity switch
    {
        MeterQuantity.Voltage => "volts (V, mV, µV)",
        MeterQuantity.Current => "amperes (A, mA, µA)",
        MeterQuantity.Power => "watts (W, mW, kW)",
        MeterQuantity.ApparentPower => "volt-amperes (VA, mVA)",
        MeterQuantity.PowerFactor => "a plain number",
        MeterQuantity.Energy => "watt-hours (Wh, mWh, kWh) or joules (J)",
        MeterQuantity.Charge => "ampere-hours (Ah, mAh) or coulombs (C)",
        _ => "seconds (s, ms)",
    };

    private static UnitKind KindOf(MeterQuantity quantity) => quantity switch
    {
        MeterQuantity.Voltage => UnitKind.Voltage,
        MeterQuantity.Current => UnitKind.Current,
        MeterQuantity.Power => UnitKind.Power,
        MeterQuantity.ApparentPower => UnitKind.ApparentPower,
        MeterQuantity.PowerFactor => UnitKind.Ratio,
        MeterQuantity.Energy => UnitKind.Energy,
        MeterQuantity.Charge => UnitKind.Charge,
        _ => UnitKind.Time,
    };
}
