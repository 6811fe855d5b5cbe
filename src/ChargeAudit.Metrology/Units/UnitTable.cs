using System.Collections.Frozen;

namespace ChargeAudit.Metrology.Units;

/// <summary>
/// The units that headers, fields and studies may carry. Case counts where it means something: <c>mW</c> is a thousandth of a watt and
/// <c>MW</c> a million; it is forgiven where it means nothing (<c>KWH</c>, <c>hz</c>). Both micro signs and <c>u</c> are one prefix.
/// </summary>
/// <remarks>Immutable and safe to use from several threads. *Source:* BIPM, The International System of Units (SI), tables 2, 4, 7 and
/// 8.</remarks>
public static class UnitTable
{
    private const double Hour = 3600;

    // Factors are exact decimal or integer products, so each is the nearest double to the true value.
    private static readonly (string Symbols, UnitKind Kind, double Factor)[] Rows =
    [
        ("V|volt|volts|Vdc|VDC|V DC|Vac|VAC|V AC|Vrms|V rms", UnitKind.Voltage, 1),
        ("mV|millivolt|millivolts|mVDC|mVdc|mV DC|mVAC|mVac|mV AC", UnitKind.Voltage, 1e-3),
        ("µV|microvolt|microvolts", UnitKind.Voltage, 1e-6),
        ("kV", UnitKind.Voltage, 1e3),
        ("A|amp|amps|ampere|amperes|Adc|ADC|A DC|Aac|AAC|A AC|Arms|A rms", UnitKind.Current, 1),
        ("mA|milliamp|milliamps|milliampere|milliamperes|mADC|mAdc|mA DC|mAAC|mAac|mA AC", UnitKind.Current, 1e-3),
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
        ("mJ|mWs|mW·s", UnitKind.Energy, 1e-3),
        ("kJ|kilojoule|kilojoules|kWs|kW·s|kW.s", UnitKind.Energy, 1e3),
        ("MJ|megajoule|megajoules|MWs", UnitKind.Energy, 1e6),
        ("Wmin|W·min|W min|watt-minutes", UnitKind.Energy, 60),
        ("kWmin|kW·min|kW min", UnitKind.Energy, 60e3),
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

    // Units that no log's header means: an F there is Fahrenheit and an m may be a minute. They are found where their kind is asked for.
    private static readonly (string Symbols, UnitKind Kind, double Factor)[] AskedFor =
    [
        ("H", UnitKind.Inductance, 1),
        ("F", UnitKind.Capacitance, 1),
        ("m", UnitKind.Length, 1),
        ("cm", UnitKind.Length, 0.01),
        ("in", UnitKind.Length, 0.0254),
        ("°|deg", UnitKind.Angle, 1),
        ("rad", UnitKind.Angle, 180 / Math.PI),
        ("K/W|°C/W", UnitKind.ThermalResistance, 1),
        ("C", UnitKind.Temperature, 1),
        ("1|", UnitKind.Ratio, 1),
        ("ppm", UnitKind.Ratio, 1e-6),
    ];

    private static readonly (char Prefix, double Factor)[] Prefixes =
        [('p', 1e-12), ('n', 1e-9), ('µ', 1e-6), ('m', 1e-3), ('k', 1e3), ('M', 1e6), ('G', 1e9)];

    // With these the prefix M (a million) is met in the trade; with all others an M is a misspelt m, and is refused.
    private static readonly HashSet<string> InMillions = ["W", "Wh", "J", "VA", "var", "Hz", "Ω", "ohm"];

    private static readonly HashSet<string> TakePrefixes = [.. InMillions, "V", "A", "Ah", "C", "As", "Ws", "s", "H", "F", "m", "VAh",
        "varh"];

    private static readonly FrozenDictionary<string, Unit> Exact = Rows
        .SelectMany(row => row.Symbols.Split('|')
            .Select(symbol =>
            KeyValuePair.Create(symbol, new Unit(row.Symbols.Split('|')[0], row.Kind, row.Factor, Offset(row.Symbols.Split('|')[0])))))
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

    /// <summary>Finds a unit of one kind, with any SI prefix. Case counts: an <c>M</c> is a million and is taken only where a million is
    /// met in the trade.</summary>
    /// <param name="symbol">Symbol as written, blanks around it allowed; nothing stands for a plain number.</param>
    /// <param name="kind">What it must measure.</param>
    /// <param name="unit">The unit found; the default value where none is.</param>
    /// <returns>Whether there is such a unit.</returns>
    public static bool TryFind(string symbol, UnitKind kind, out Unit unit)
    {
        string plain = Normalise(symbol);
        foreach (var row in AskedFor)
        {
            if (row.Kind == kind && row.Symbols.Split('|').Contains(plain))
            {
                unit = new Unit(row.Symbols.Split('|')[0], kind, row.Factor);
                return true;
            }
        }

        if (TryFind(plain, out unit) && unit.Kind == kind)
        {
            return true;
        }

        if (plain.Length > 1)
        {
            char first = plain[0] == 'u' ? 'µ' : plain[0];
            string rest = plain[1..];
            foreach (var (prefix, factor) in Prefixes)
            {
                if (kind != UnitKind.Temperature && prefix == first && TakePrefixes.Contains(rest)
                    && (prefix < 'A' || prefix > 'Z' || InMillions.Contains(rest))
                    && TryFind(rest, kind, out var whole))
                {
                    unit = new Unit(prefix + whole.Symbol, kind, factor * whole.Factor);
                    return true;
                }
            }
        }

        unit = default;
        return false;
    }

    /// <summary>What to write instead of an <c>M</c> that nobody can mean, as a clause; null where that is not the trouble.</summary>
    /// <param name="symbol">Symbol as written.</param>
    /// <param name="kind">What it must measure.</param>
    public static string? Hint(string symbol, UnitKind kind)
    {
        string plain = Normalise(symbol);
        return plain.Length > 1 && plain[0] == 'M' && !TryFind(plain, kind, out _) && TryFind("m" + plain[1..], kind, out var small)
            ? $"M means a million and m a thousandth: write {small.Symbol} if that is meant"
            : null;
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
