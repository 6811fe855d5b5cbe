using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// An amount of electric charge. Charges moved at different voltages do not compare as energies. The default value is zero. Two are equal
/// when their doubles are. Immutable, so safe to share between threads.
/// </summary>
public readonly record struct ElectricCharge : IComparable<ElectricCharge>, IFormattable
{
    private readonly double _coulombs;

    private ElectricCharge(double coulombs) => _coulombs = coulombs;

    /// <summary>None at all.</summary>
    public static ElectricCharge Zero => default;

    /// <summary>In coulombs. [C]</summary>
    public double Coulombs => _coulombs;

    /// <summary>In amperehours. [Ah]</summary>
    public double AmpereHours => _coulombs / 3600;

    /// <summary>In milliamperehours. [mAh]</summary>
    public double MilliampereHours => _coulombs / 3.6;

    /// <summary>From coulombs. [C]</summary>
    public static ElectricCharge FromCoulombs(double coulombs) => new(coulombs);

    /// <summary>From amperehours. [Ah]</summary>
    public static ElectricCharge FromAmpereHours(double ampereHours) => new(ampereHours * 3600);

    /// <summary>From milliamperehours. [mAh]</summary>
    public static ElectricCharge FromMilliampereHours(double milliampereHours) => new(milliampereHours * 3.6);

    /// <summary>Energy of the charge moved at one constant voltage.</summary>
    public Energy AtConstant(Voltage voltage) => Energy.FromJoules(_coulombs * voltage.Volts);

    /// <summary>Mean current over a duration.</summary>
    public static Current operator /(ElectricCharge charge, TimeSpan duration) => Current.FromAmperes(charge._coulombs / duration.TotalSeconds);

    /// <summary>Sum.</summary>
    public static ElectricCharge operator +(ElectricCharge a, ElectricCharge b) => new(a._coulombs + b._coulombs);

    /// <summary>Difference.</summary>
    public static ElectricCharge operator -(ElectricCharge a, ElectricCharge b) => new(a._coulombs - b._coulombs);

    /// <summary>The same amount with the other sign.</summary>
    public static ElectricCharge operator -(ElectricCharge a) => new(-a._coulombs);

    /// <summary>Multiple.</summary>
    public static ElectricCharge operator *(double factor, ElectricCharge a) => new(factor * a._coulombs);

    /// <summary>Multiple.</summary>
    public static ElectricCharge operator *(ElectricCharge a, double factor) => new(a._coulombs * factor);

    /// <summary>Part.</summary>
    public static ElectricCharge operator /(ElectricCharge a, double divisor) => new(a._coulombs / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(ElectricCharge a, ElectricCharge b) => a._coulombs / b._coulombs;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(ElectricCharge a, ElectricCharge b) => a._coulombs < b._coulombs;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(ElectricCharge a, ElectricCharge b) => a._coulombs > b._coulombs;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(ElectricCharge a, ElectricCharge b) => a._coulombs <= b._coulombs;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(ElectricCharge a, ElectricCharge b) => a._coulombs >= b._coulombs;

    /// <inheritdoc/>
    public int CompareTo(ElectricCharge other) => _coulombs.CompareTo(other._coulombs);

    /// <summary>The amount in amperehours to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in amperehours in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        AmpereHours.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " Ah";
}
