using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// Apparent power: effective voltage times effective current on an alternating supply. It is not what a bill counts. The default value is
/// zero. Two are equal when their doubles are. Immutable, so safe to share between threads.
/// </summary>
public readonly record struct ApparentPower : IComparable<ApparentPower>, IFormattable
{
    private readonly double _voltAmperes;

    private ApparentPower(double voltAmperes) => _voltAmperes = voltAmperes;

    /// <summary>None at all.</summary>
    public static ApparentPower Zero => default;

    /// <summary>In voltamperes. [VA]</summary>
    public double VoltAmperes => _voltAmperes;

    /// <summary>From voltamperes. [VA]</summary>
    public static ApparentPower FromVoltAmperes(double voltAmperes) => new(voltAmperes);

    /// <summary>Apparent power of effective values.</summary>
    public static ApparentPower Of(Voltage voltage, Current current) => new(voltage.Volts * current.Amperes);

    /// <summary>Real power at a power factor.</summary>
    /// <param name="powerFactor">Real by apparent power, −1 to 1. [1]</param>
    /// <exception cref="ArgumentOutOfRangeException">The power factor lies outside −1 to 1.</exception>
    public Power Times(double powerFactor) => powerFactor is >= -1 and <= 1
        ? Power.FromWatts(_voltAmperes * powerFactor)
        : throw new ArgumentOutOfRangeException(nameof(powerFactor), powerFactor, "a power factor lies between -1 and 1");

    /// <summary>Power factor that a real power has at this apparent power.</summary>
    public double PowerFactorOf(Power power) => power.Watts / _voltAmperes;

    /// <summary>Sum.</summary>
    public static ApparentPower operator +(ApparentPower a, ApparentPower b) => new(a._voltAmperes + b._voltAmperes);

    /// <summary>Difference.</summary>
    public static ApparentPower operator -(ApparentPower a, ApparentPower b) => new(a._voltAmperes - b._voltAmperes);

    /// <summary>The same amount with the other sign.</summary>
    public static ApparentPower operator -(ApparentPower a) => new(-a._voltAmperes);

    /// <summary>Multiple.</summary>
    public static ApparentPower operator *(double factor, ApparentPower a) => new(factor * a._voltAmperes);

    /// <summary>Multiple.</summary>
    public static ApparentPower operator *(ApparentPower a, double factor) => new(a._voltAmperes * factor);

    /// <summary>Part.</summary>
    public static ApparentPower operator /(ApparentPower a, double divisor) => new(a._voltAmperes / divisor);

    /// <summary>Ratio, a pure number.</summary>
    public static double operator /(ApparentPower a, ApparentPower b) => a._voltAmperes / b._voltAmperes;

    /// <summary>Whether the first is the smaller.</summary>
    public static bool operator <(ApparentPower a, ApparentPower b) => a._voltAmperes < b._voltAmperes;

    /// <summary>Whether the first is the greater.</summary>
    public static bool operator >(ApparentPower a, ApparentPower b) => a._voltAmperes > b._voltAmperes;

    /// <summary>Whether the first is not the greater.</summary>
    public static bool operator <=(ApparentPower a, ApparentPower b) => a._voltAmperes <= b._voltAmperes;

    /// <summary>Whether the first is not the smaller.</summary>
    public static bool operator >=(ApparentPower a, ApparentPower b) => a._voltAmperes >= b._voltAmperes;

    /// <inheritdoc/>
    public int CompareTo(ApparentPower other) => _voltAmperes.CompareTo(other._voltAmperes);

    /// <summary>The amount in voltamperes to ten significant digits, in the invariant culture, with its unit.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in voltamperes in a numeric format, with its unit; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        VoltAmperes.ToString(format ?? "G10", formatProvider ?? CultureInfo.InvariantCulture) + " VA";
}
