using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// An electric current; on an alternating supply its effective value. The default value is zero. Two are equal when their doubles are.
/// Immutable, so safe to share between threads.
/// </summary>
public readonly record struct Current : IComparable<Current>, IFormattable
{
    private readonly double _amperes;

    private Current(double amperes) => _amperes = amperes;

    /// <summary>None at all.</summary>
    public static Current Zero => default;

    /// <summary>In amperes. [A]</summary>
    public double Amperes => _amperes;

    /// <summary>In milliamperes. [mA]</summary>
    public double Milliamperes => _amperes / 1e-3;

    /// <summary>From amperes. [A]</summary>
    public static Current FromAmperes(double amperes) => new(amperes);

    /// <summary>From milliamperes. [mA]</summary>
    public static Current FromMilliamperes(double milliamperes) => new(milliamperes * 1e-3);

    /// <summary>Charge moved by a constant current.</summary>
    public static ElectricCharge operator *(Current current, TimeSpan duration) => ElectricCharge.FromCoulombs(current._amperes * duration.TotalSeconds);

    /// <summary>Charge moved by a constant current.</summary>
    public static ElectricCharge operator *(TimeSpan duration, Current current) => current * duration;

    /// <summary>Voltage across a resistance.</summary>
    public static Voltage operator *(Current current, Resistance resistance) => Voltage.FromVolts(current._amperes * resistance.Ohms);

    /// <summary>Sum.</summary>
    public static Current operator +(Current a, Current b) => new(a._amperes + b._amperes);

    /// <summary>Difference.</summary>
    public static Current operator -(Current a, Current b) => new(a._amperes - b._amperes);

    /// <summary>The same amount with the other sign.</summary>
    public static Current operator -(Current a) => new(-a._amperes);

    /// <summary>Multiple.</summary>
    public static Current operator *(double factor, Current a) => new(factor * a._amperes);

    /// <summary>Multiple.</summary>
    public static Current operator *(Current a, double factor) => new(a._amperes * factor);

    /// <summary>Part.</summary>
    public static Current operator /(Current a, double divisor) => new(a._amperes / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(Current a, Current b) => a._amperes / b._amperes;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(Current a, Current b) => a._amperes < b._amperes;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(Current a, Current b) => a._amperes > b._amperes;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(Current a, Current b) => a._amperes <= b._amperes;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(Current a, Current b) => a._amperes >= b._amperes;

    /// <inheritdoc/>
    public int CompareTo(Current other) => _amperes.CompareTo(other._amperes);

    /// <summary>The amount in amperes to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in amperes in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        Amperes.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " A";
}
