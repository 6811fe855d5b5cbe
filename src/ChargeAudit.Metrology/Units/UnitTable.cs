using System.Collections.Frozen;

namespace ChargeAudit.Metrology.Units;

/// <summary>
/// The units that headers, fields and studies may carry. Case counts where it means something: <c>mW</c> is a thousandth of a watt and
/// <c>MW</c> a million; it is forgiven where it means nothing (<c>KWH</c>, <c>hz</c>). Both micro signs and <c>u</c> are one prefix.
/// </summary>
/// <remarks>Immutable and safe to use from several threads. *Source:* BIPM, The International System of Units (SI), tables 2, 4, 7 and 8.</remarks>
public static class UnitTable
{
    private const double Hour = 3600;

    // Factors are exact decimal or integer products, so each is the nearest double to the true value.
    private static readonly (string Symbols, UnitKind Kind, double Factor)[] Rows =
    [
        ("V|volt|volts|Vdc|VDC|V DC|Vac|VAC|V AC|Vrms|V rms", UnitKind.Voltage, 1),
        ("mV|millivolt|millivolts", UnitKind.Voltage, 1e-3),
        ("µV|microvolt|microvolts", UnitKind.Voltage, 1e-6),
        ("kV", UnitKind.Voltage, 1e3),
        ("A|amp|amps|ampere|amperes|Adc|ADC|Aac|Arms", UnitKind.Current, 1),
        ("mA|milliamp|milliamps|milliampere|milliamperes", UnitKind.Current, 1e-3),
        ("µA|microamp|microamps|microampere", UnitKind.Current, 1e-6),
        ("nA", UnitKind.Current, 1e-9),
        ("W|watt|watts", UnitKind.Power, 1),
        ("mW|milliwatt|milliwatts", UnitKind.Power, 1e-3),
        ("µW|microwatt|microwatts", UnitKind.Power, 1e-6),
        ("kW|kilowatt|kilowatts", UnitKind.Power, 1e3),
        ("MW|megawatt|megawatts", UnitKind.Power, 1e6),
        ("VA|volt-ampere|voltampere", UnitKind.ApparentPower, 1),
        ("mVA", UnitKind.ApparentPower, 1e-3),
        ("kVA", UnitKind.ApparentPower, 1e3),
        ("var|VAr|VAR", UnitKind.ReactivePower, 1),
        ("mvar|mVAr|mVAR", UnitKind.ReactivePower, 1e-3),
        ("kvar|kVAr|kVAR", UnitKind.ReactivePower, 1e3),
        ("J|joule|joules|Ws|W·s|W.s", UnitKind.Energy, 1),
        ("mJ", UnitKind.Energy, 1e-3),
        ("kJ|kilojoule|kilojoules", UnitKind.Energy, 1e3),
        ("MJ|megajoule|megajoules", UnitKind.Energy, 1e6),
        ("Wh|W·h|W.h|W h|watt-hour|watt-hours|watthour|watthours|watt hours", UnitKind.Energy, Hour),
        ("mWh|mW·h|mW.h|mW h|milliwatt-hours", UnitKind.Energy, 3.6),
        ("µWh|µW·h", UnitKind.Energy, 3.6e-3),
        ("kWh|kW·h|kW.h|kW h|kilowatt-hour|kilowatt-hours", UnitKind.Energy, 3.6e6),
        ("MWh", UnitKind.Energy, 3.6e9),
        ("VAh|VA·h", UnitKind.ApparentEnergy, Hour),
        ("kVAh", UnitKind.ApparentEnergy, 3.6e6),
        ("varh|VArh|VARh|VARH", UnitKind.ReactiveEnergy, Hour),
        ("kvarh|kVArh|kVARh", UnitKind.ReactiveEnergy, 3.6e6),
        ("C|coulomb|coulombs|As|A·s|A.s", UnitKind.Charge, 1),
        ("mC|mAs|mA·s", UnitKind.Charge, 1e-3),
        ("Ah|A·h|A.h|A h|amp-hours|ampere-hours|amp hours", UnitKind.Charge, Hour),
        ("mAh|mA·h|mA.h|mA h|milliamp-hours|milliampere-hours", UnitKind.Charge, 3.6),
        ("µAh|µA·h", UnitKind.Charge, 3.6e-3),
        ("s|sec|secs|second|seconds", UnitKind.Time, 1),
        ("ms|msec|msecs|millis|millisecond|milliseconds", UnitKind.Time, 1e-3),
        ("µs|µsec|micros|microsecond|microseconds", UnitKind.Time, 1e-6),
        ("ns|nanos|nanosecond|nanoseconds", UnitKind.Time, 1e-9),
        ("min|mins|minute|minutes", UnitKind.Time, 60),
        ("h|hr|hrs|hour|hours", UnitKind.Time, Hour),
        ("d|day|days", UnitKind.Time, 24 * Hour),
        ("°C|degC|deg C|degree C|degrees C|Celsius|Cel|℃", UnitKind.Temperature, 1),
        ("°F|degF|deg F|degree F|degrees F|Fahrenheit|℉", UnitKind.Temperature, 5.0 / 9),
        ("K|kelvin|kelvins", UnitKind.Temperature, 1),
        ("Hz|hertz", UnitKind.Frequency, 1),
        ("mHz", UnitKind.Frequency, 1e-3),
        ("kHz", UnitKind.Frequency, 1e3),
        ("Ω|ohm|ohms", UnitKind.Resistance, 1),
        ("mΩ|mohm", UnitKind.Resistance, 1e-3),
        ("kΩ|kohm", UnitKind.Resistance, 1e3),
        ("%|percent|pct", UnitKind.Ratio, 0.01),
    ];

    private static readonly FrozenDictionary<string, Unit> Exact = Rows
        .SelectMany(row => row.Symbols.Split('|').Select(symbol => KeyValuePair.Create(symbol, new Unit(row.Symbols.Split('|')[0], row.Kind, row.Factor, Offset(row.Symbols.Split('|')[0])))))
        .ToFrozenDictionary(StringComparer.Ordinal);

    // Spellings in which case means nothing; where two units fall together, neither is here.
    private static readonly FrozenDictionary<string, Unit> Folded = Exact
        .GroupBy(pair => Fold(pair.Key), StringComparer.Ordinal)
        .Where(group => group.Select(pair => pair.Value).Distinct().Count() == 1)
        .ToFrozenDictionary(group => group.Key, group => group.First().Value, StringComparer.Ordinal);

    /// <summary>All units, once each.</summary>
    public static IEnumerable<Unit> All => Rows.Select(row => Exact[row.Symbols.Split('|')[0]]);

    /// <summary>Finds a unit by its symbol or name.</summary>
    /// <param name="symbol">Symbol as written, blanks around it allowed.</param>
    /// <param name="unit">The unit found; the default value where none is.</param>
    /// <returns>Whether there is such a unit.</returns>
    public static bool TryFind(string symbol, out Unit unit)
    {
        ArgumentNullException.ThrowIfNull(symbol);
        string plain = Normalise(symbol);
        if (Exact.TryGetValue(plain, out unit))
        {
            return true;
        }

        // A lower-case u stands for micro only in front of another letter of a known unit.
        if (plain.Length > 1 && plain[0] == 'u' && Exact.TryGetValue("µ" + plain[1..], out unit))
        {
            return true;
        }

        // Single letters are too short to forgive, but for V, A and W.
        if ((plain.Length > 1 || plain is "v" or "a" or "w") && Folded.TryGetValue(Fold(plain), out unit))
        {
            return true;
        }

        unit = default;
        return false;
    }

    private static string Normalise(string symbol) =>
        symbol.Trim().Replace('\u03BC', 'µ').Replace('\u2126', 'Ω').Replace('\u00BA', '°').Replace('⋅', '·').Replace('*', '·');

    private static double Offset(string symbol) => symbol switch
    {
        "°F" => -160.0 / 9,
        "K" => -273.15,
        _ => 0,
    };

    // A first m or M of a symbol stays as it is: "MA" might mean a million amperes or be a shouted mA, and nothing tells which.
    private static string Fold(string symbol) =>
        symbol.Length is > 1 and <= 4 && symbol[0] is 'm' or 'M' ? symbol[0] + symbol[1..].ToUpperInvariant() : symbol.ToUpperInvariant();
}
