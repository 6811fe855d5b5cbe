namespace ChargeAudit.Metrology.Units;

/// <summary>One unit that a log or a study may name.</summary>
/// <param name="Symbol">Its symbol, as written in this program's output.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="Factor">Coherent units of <paramref name="Kind"/> per one of this: 3.6 for mWh, as the coherent unit is the joule.</param>
/// <param name="Offset">What is added after that: only units of temperature have a zero of their own, such as −273.15 for K in °C.</param>
public readonly record struct Unit(string Symbol, UnitKind Kind, double Factor, double Offset = 0)
{
    /// <summary>A number of this unit in the coherent unit.</summary>
    public double Coherent(double number) => (number * Factor) + Offset;

    /// <summary>The symbol.</summary>
    public override string ToString() => Symbol;
}
