using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// Real (active) power: energy by time. The default value is zero. Two are equal when their doubles are. Immutable, so safe to share
/// between threads.
/// </summary>
public readonly record struct Power : IComparable<Power>, IFormattable
{
    private readonly double _watts;

    private Power(double watts) => _watts = watts;

    /// <summary>None at all.</summary>
    public static Power Zero => default;

    /// <summary>In watts. [W]</summary>
    public double Watts => _watts;

    /// <summary>In milliwatts. [mW]</summary>
    public double Milliwatts => _watts / 1e-3;

    /// <summary>In kilowatts. [kW]</summary>
    public double Kilowatts => _watts / 1e3;

    /// <summary>From watts. [W]</summary>
    public static Power FromWatts(double watts) => new(watts);

    /// <summary>From milliwatts. [mW]</summary>
    public static Power FromMilliwatts(double milliwatts) => new(milliwatts * 1e-3);

    /// <summary>From kilowatts. [kW]</summary>
    public static Power FromKilowatts(double kilowatts) => new(kilowatts * 1e3);

    /// <summary>Power of a direct current. On mains voltage times current is apparent power: see <see cref="ApparentPower.Of"/>.</summary>
    public static Power OfDirectCurrent(Voltage voltage, Current current) => new(voltage.Volts * current.Amperes);

    /// <summary>Heat of a current (effective value) in a resistance: I²R, on direct and alternating current alike.</summary>
    public static Power DissipatedIn(Resistance resistance, Current current) => new(resistance.Ohms * current.Amperes * current.Amperes);

    /// <summary>Energy at constant power.</summary>
    public static Energy operator *(Power power, TimeSpan duration) => Energy.FromJoules(power._watts * duration.TotalSeconds);

    /// <summary>Energy at constant power.</summary>
    public static Energy operator *(TimeSpan duration, Power power) => power * duration;

    /// <summary>Sum.</summary>
    public static Power operator +(Power a, Power b) => new(a._watts + b._watts);

    /// <summary>Difference.</summary>
    public static Power operator -(Power a, Power b) => new(a._watts - b._watts);

    /// <summary>The same amount with the other sign.</summary>
    public static Power operator -(Power a) => new(-a._watts);

    /// <summary>Multiple.</summary>
    public static Power operator *(double factor, Power a) => new(factor * a._watts);

    /// <summary>Multiple.</summary>
    public static Power operator *(Power a, double factor) => new(a._watts * factor);

    /// <summary>Part.</summary>
    public static Power operator /(Power a, double divisor) => new(a._watts / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(Power a, Power b) => a._watts / b._watts;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(Power a, Power b) => a._watts < b._watts;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(Power a, Power b) => a._watts > b._watts;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(Power a, Power b) => a._watts <= b._watts;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(Power a, Power b) => a._watts >= b._watts;

    /// <inheritdoc/>
    public int CompareTo(Power other) => _watts.CompareTo(other._watts);

    /// <summary>The amount in watts to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in watts in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        Watts.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " W";
}
