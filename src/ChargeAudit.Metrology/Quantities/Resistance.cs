using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// An electrical resistance. The default value is zero. Two are equal when their doubles are. Immutable, so safe to share between threads.
/// </summary>
public readonly record struct Resistance : IComparable<Resistance>, IFormattable
{
    private readonly double _ohms;

    private Resistance(double ohms) => _ohms = ohms;

    /// <summary>None at all.</summary>
    public static Resistance Zero => default;

    /// <summary>In ohms. [Ω]</summary>
    public double Ohms => _ohms;

    /// <summary>In milliohms. [mΩ]</summary>
    public double Milliohms => _ohms / 1e-3;

    /// <summary>From ohms. [Ω]</summary>
    public static Resistance FromOhms(double ohms) => new(ohms);

    /// <summary>From milliohms. [mΩ]</summary>
    public static Resistance FromMilliohms(double milliohms) => new(milliohms * 1e-3);

    /// <summary>Resistance at a direct voltage and current.</summary>
    public static Resistance OfDirectCurrent(Voltage voltage, Current current) => new(voltage.Volts / current.Amperes);

    /// <summary>Sum.</summary>
    public static Resistance operator +(Resistance a, Resistance b) => new(a._ohms + b._ohms);

    /// <summary>Difference.</summary>
    public static Resistance operator -(Resistance a, Resistance b) => new(a._ohms - b._ohms);

    /// <summary>The same amount with the other sign.</summary>
    public static Resistance operator -(Resistance a) => new(-a._ohms);

    /// <summary>Multiple.</summary>
    public static Resistance operator *(double factor, Resistance a) => new(factor * a._ohms);

    /// <summary>Multiple.</summary>
    public static Resistance operator *(Resistance a, double factor) => new(a._ohms * factor);

    /// <summary>Part.</summary>
    public static Resistance operator /(Resistance a, double divisor) => new(a._ohms / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(Resistance a, Resistance b) => a._ohms / b._ohms;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(Resistance a, Resistance b) => a._ohms < b._ohms;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(Resistance a, Resistance b) => a._ohms > b._ohms;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(Resistance a, Resistance b) => a._ohms <= b._ohms;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(Resistance a, Resistance b) => a._ohms >= b._ohms;

    /// <inheritdoc/>
    public int CompareTo(Resistance other) => _ohms.CompareTo(other._ohms);

    /// <summary>The amount in ohms to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in ohms in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        Ohms.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " Ω";
}
