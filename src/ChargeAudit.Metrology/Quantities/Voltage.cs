using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// A voltage; on an alternating supply its effective value. The default value is zero. Two are equal when their doubles are. Immutable, so
/// safe to share between threads.
/// </summary>
public readonly record struct Voltage : IComparable<Voltage>, IFormattable
{
    private readonly double _volts;

    private Voltage(double volts) => _volts = volts;

    /// <summary>None at all.</summary>
    public static Voltage Zero => default;

    /// <summary>In volts. [V]</summary>
    public double Volts => _volts;

    /// <summary>In millivolts. [mV]</summary>
    public double Millivolts => _volts / 1e-3;

    /// <summary>From volts. [V]</summary>
    public static Voltage FromVolts(double volts) => new(volts);

    /// <summary>From millivolts. [mV]</summary>
    public static Voltage FromMillivolts(double millivolts) => new(millivolts * 1e-3);

    /// <summary>Current through a resistance.</summary>
    public static Current operator /(Voltage voltage, Resistance resistance) => Current.FromAmperes(voltage._volts / resistance.Ohms);

    /// <summary>Sum.</summary>
    public static Voltage operator +(Voltage a, Voltage b) => new(a._volts + b._volts);

    /// <summary>Difference.</summary>
    public static Voltage operator -(Voltage a, Voltage b) => new(a._volts - b._volts);

    /// <summary>The same amount with the other sign.</summary>
    public static Voltage operator -(Voltage a) => new(-a._volts);

    /// <summary>Multiple.</summary>
    public static Voltage operator *(double factor, Voltage a) => new(factor * a._volts);

    /// <summary>Multiple.</summary>
    public static Voltage operator *(Voltage a, double factor) => new(a._volts * factor);

    /// <summary>Part.</summary>
    public static Voltage operator /(Voltage a, double divisor) => new(a._volts / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(Voltage a, Voltage b) => a._volts / b._volts;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(Voltage a, Voltage b) => a._volts < b._volts;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(Voltage a, Voltage b) => a._volts > b._volts;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(Voltage a, Voltage b) => a._volts <= b._volts;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(Voltage a, Voltage b) => a._volts >= b._volts;

    /// <inheritdoc/>
    public int CompareTo(Voltage other) => _volts.CompareTo(other._volts);

    /// <summary>The amount in volts to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in volts in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        Volts.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " V";
}
