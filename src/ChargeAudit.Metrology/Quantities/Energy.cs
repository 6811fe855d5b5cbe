using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// An amount of energy. The default value is zero. Two are equal when their doubles are. Immutable, so safe to share between threads.
/// </summary>
public readonly record struct Energy : IComparable<Energy>, IFormattable
{
    private readonly double _joules;

    private Energy(double joules) => _joules = joules;

    /// <summary>None at all.</summary>
    public static Energy Zero => default;

    /// <summary>In joules. [J]</summary>
    public double Joules => _joules;

    /// <summary>In kilowatthours. [kWh]</summary>
    public double KilowattHours => _joules / 3.6e6;

    /// <summary>In watthours. [Wh]</summary>
    public double WattHours => _joules / 3600;

    /// <summary>In milliwatthours. [mWh]</summary>
    public double MilliwattHours => _joules / 3.6;

    /// <summary>From joules. [J]</summary>
    public static Energy FromJoules(double joules) => new(joules);

    /// <summary>From kilowatthours. [kWh]</summary>
    public static Energy FromKilowattHours(double kilowattHours) => new(kilowattHours * 3.6e6);

    /// <summary>From watthours. [Wh]</summary>
    public static Energy FromWattHours(double wattHours) => new(wattHours * 3600);

    /// <summary>From milliwatthours. [mWh]</summary>
    public static Energy FromMilliwattHours(double milliwattHours) => new(milliwattHours * 3.6);

    /// <summary>Mean power over a duration.</summary>
    public static Power operator /(Energy energy, TimeSpan duration) => Power.FromWatts(energy._joules / duration.TotalSeconds);

    /// <summary>How long a constant power takes to deliver the energy.</summary>
    /// <exception cref="OverflowException">The duration is not finite or too long for a <see cref="TimeSpan"/>.</exception>
    public static TimeSpan operator /(Energy energy, Power power) => TimeSpan.FromSeconds(energy._joules / power.Watts);

    /// <summary>Sum.</summary>
    public static Energy operator +(Energy a, Energy b) => new(a._joules + b._joules);

    /// <summary>Difference.</summary>
    public static Energy operator -(Energy a, Energy b) => new(a._joules - b._joules);

    /// <summary>The same amount with the other sign.</summary>
    public static Energy operator -(Energy a) => new(-a._joules);

    /// <summary>Multiple.</summary>
    public static Energy operator *(double factor, Energy a) => new(factor * a._joules);

    /// <summary>Multiple.</summary>
    public static Energy operator *(Energy a, double factor) => new(a._joules * factor);

    /// <summary>Part.</summary>
    public static Energy operator /(Energy a, double divisor) => new(a._joules / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(Energy a, Energy b) => a._joules / b._joules;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(Energy a, Energy b) => a._joules < b._joules;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(Energy a, Energy b) => a._joules > b._joules;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(Energy a, Energy b) => a._joules <= b._joules;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(Energy a, Energy b) => a._joules >= b._joules;

    /// <inheritdoc/>
    public int CompareTo(Energy other) => _joules.CompareTo(other._joules);

    /// <summary>The amount in watthours to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in watthours in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        WattHours.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " Wh";
}
