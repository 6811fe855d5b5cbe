namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>The few units in which data sheets state the fixed part of an accuracy, with the usual prefixes; case means something (m,
/// M).</summary>
internal static class MeterUnits
{
    /// <summary>Coherent units in one of the unit named; null where it is none of the quantity.</summary>
    internal static double? Factor(string unit, MeterQuantity quantity)
    {
        if (quantity == MeterQuantity.PowerFactor)
        {
            return unit.Length == 0 || unit == "1" ? 1 : null;
        }

        foreach (var (symbol, factor) in Symbols(quantity))
        {
            if (unit == symbol)
            {
                return factor;
            }

            if (unit.Length == symbol.Length + 1 && unit.EndsWith(symbol, StringComparison.Ordinal) && Prefix(unit[0]) is { } prefix)
            {
                return prefix * factor;
            }
        }

        return null;
    }

    /// <summary>The usual symbol.</summary>
    internal static string Symbol(MeterQuantity quantity) => quantity == MeterQuantity.PowerFactor ? "" : Symbols(quantity)[0].Symbol;

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

    private static (string Symbol, double Factor)[] Symbols(MeterQuantity quantity) => quantity switch
    {
        MeterQuantity.Voltage => [("V", 1)],
        MeterQuantity.Current => [("A", 1)],
        MeterQuantity.Power => [("W", 1)],
        MeterQuantity.ApparentPower => [("VA", 1)],
        MeterQuantity.Energy => [("Wh", 3600), ("J", 1), ("Ws", 1)],
        MeterQuantity.Charge => [("Ah", 3600), ("C", 1), ("As", 1)],
        _ => [("s", 1)],
    };

    private static double? Prefix(char prefix) => prefix switch
    {
        'µ' or 'μ' or 'u' => 1e-6,
        'm' => 1e-3,
        'k' => 1e3,
        'M' => 1e6,
        _ => null,
    };
}
