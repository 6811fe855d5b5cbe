using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Coils;

/// <summary>
/// What a user knows of two coils, as the command line and a study's <c>coils</c> table give it. Everything may be missing; what can be
/// worked out is.
/// </summary>
public sealed record CoilData
{
    /// <summary>Names of all entries with the coherent unit of each; pure numbers have <c>1</c>.</summary>
    public static IReadOnlyList<(string Key, string Unit)> Keys { get; } =
    [
        ("primary", "H"), ("secondary", "H"), ("primary-quality", "1"), ("secondary-quality", "1"), ("primary-resistance", "Ω"),
            ("secondary-resistance", "Ω"),
        ("primary-capacitance", "F"), ("secondary-capacitance", "F"), ("coupling", "1"), ("frequency", "Hz"), ("load", "Ω"),
        ("primary-turns", "1"), ("primary-inner-radius", "m"), ("primary-outer-radius", "m"), ("secondary-turns", "1"),
            ("secondary-inner-radius", "m"),
        ("secondary-outer-radius", "m"), ("gap", "m"), ("offset", "m"), ("shield-factor", "1"),
    ];

    /// <summary>Inductance of the driven coil. [H]</summary>
    public double? PrimaryH { get; init; }

    /// <summary>Inductance of the receiving coil. [H]</summary>
    public double? SecondaryH { get; init; }

    /// <summary>Quality factor of the driven coil. [1]</summary>
    public double? PrimaryQ { get; init; }

    /// <summary>Quality factor of the receiving coil. [1]</summary>
    public double? SecondaryQ { get; init; }

    /// <summary>Capacitor at the driven coil. [F]</summary>
    public double? PrimaryF { get; init; }

    /// <summary>Capacitor at the receiving coil. [F]</summary>
    public double? SecondaryF { get; init; }

    /// <summary>Coupling coefficient, given or from the geometry. [1]</summary>
    public double? Coupling { get; init; }

    /// <summary>Mutual inductance from the geometry; null where it was not given. [H]</summary>
    public double? GeometricMutualH { get; init; }

    /// <summary>Operating frequency. [Hz]</summary>
    public double? FrequencyHz { get; init; }

    /// <summary>Load at the receiving coil. [Ω]</summary>
    public double? LoadOhm { get; init; }

    /// <summary>The link; null where something is missing for it.</summary>
    public CoilLink? Link => PrimaryH is { } l1 && SecondaryH is { } l2 && PrimaryQ is { } q1 && SecondaryQ is { } q2 && Coupling is { } k
        && FrequencyHz is { } f
        ? new CoilLink { PrimaryH = l1, SecondaryH = l2, PrimaryQ = q1, SecondaryQ = q2, Coupling = k, FrequencyHz = f }
        : null;

    /// <summary>What is missing for a link, by name.</summary>
    public IReadOnlyList<string> Missing
    {
        get
        {
            (string, double?)[] needed =
            [
                ("primary", PrimaryH), ("secondary", SecondaryH), ("coupling (or turns, radii and gap)", Coupling),
                    ("frequency", FrequencyHz),
                ("primary-quality (or primary-resistance)", PrimaryQ), ("secondary-quality (or secondary-resistance)", SecondaryQ),
            ];
            return [.. needed.Where(n => n.Item2 is null).Select(n => n.Item1)];
        }
    }

    /// <summary>Reads entries.</summary>
    /// <param name="entries">Texts by the names in <see cref="Keys"/>.</param>
    /// <param name="place">What a message calls the place: <c>the command line</c>, or a file and its line.</param>
    /// <returns>The data.</returns>
    /// <exception cref="InputException">An entry is unknown, cannot be read, is not above zero, or contradicts another.</exception>
    public static CoilData Read(IReadOnlyDictionary<string, string> entries, string place)
    {
        ArgumentNullException.ThrowIfNull(entries);
        Dictionary<string, double> values = [];
        foreach ((string key, string text) in entries)
        {
            (string Key, string Unit) known = Keys.FirstOrDefault(k => k.Key == key);
            if (known.Key is null)
            {
                throw Problem(place, $"'{key}' is not known of a coil; known are {string.Join(", ", Keys.Select(k => k.Key))}.");
            }

            if (!ValueText.TryParse(text, known.Unit, out double value, out string? hint) || value < 0 || (value == 0 && key != "offset"))
            {
                throw Problem(place,
                    $"'{key}' is \"{text}\"; a {Wanted(known.Unit)} was expected{(hint is null ? "" : $" ({hint})")}.");
            }

            values[key] = value;
        }

        return Combine(values, place);
    }

    private static string Wanted(string unit) => unit switch
    {
        "1" => "number above zero, such as 0.4,",
        "H" => "value above zero with its unit, such as 21 µH,",
        "F" => "value above zero with its unit, such as 100 nF,",
        "Hz" => "value above zero with its unit, such as 127.7 kHz,",
        "m" => "value above zero with its unit, such as 20 mm,",
        _ => $"value above zero with its unit, such as 0.2 {unit},",
    };

    private static CoilData Combine(Dictionary<string, double> values, string place)
    {
        double? primaryH = Get(values, "primary");
        double? secondaryH = Get(values, "secondary");
        double? frequencyHz = Get(values, "frequency");
        if (frequencyHz is null && primaryH is { } l && Get(values, "primary-capacitance") is { } c)
        {
            frequencyHz = Resonance.FrequencyHz(l, c);
        }

        double? mutualH = Mutual(values, place);
        double? coupling = Get(values, "coupling");
        if (coupling is not null && mutualH is not null)
        {
            throw Problem(place, "'coupling' is given and follows from the geometry too; take one of them out.");
        }

        if (mutualH is { } m && primaryH is { } l1 && secondaryH is { } l2)
        {
            coupling = m / Math.Sqrt(l1 * l2);
        }

        if (coupling is not null and not (> 0 and < 1))
        {
            throw Problem(place,
                Prose.Of(
                    $"the coupling comes out as {coupling:G4}, expected above 0 and below 1; correct coupling, geometry or inductances."));
        }

        return new CoilData
        {
            PrimaryH = primaryH,
            SecondaryH = secondaryH,
            PrimaryQ = Quality(values, "primary", primaryH, frequencyHz, place),
            SecondaryQ = Quality(values, "secondary", secondaryH, frequencyHz, place),
            PrimaryF = Get(values, "primary-capacitance"),
            SecondaryF = Get(values, "secondary-capacitance"),
            Coupling = coupling,
            GeometricMutualH = mutualH,
            FrequencyHz = frequencyHz,
            LoadOhm = Get(values, "load"),
        };
    }

    private static double? Quality(Dictionary<string, double> values, string coil, double? inductanceH, double? frequencyHz, string place)
    {
        double? quality = Get(values, coil + "-quality");
        if (Get(values, coil + "-resistance") is not { } ohm)
        {
            return quality;
        }

        if (quality is not null)
        {
            throw Problem(place, $"'{coil}-quality' and '{coil}-resistance' say the same; take one of them out.");
        }

        return 2 * Math.PI * frequencyHz * inductanceH / ohm;
    }

    private static double? Mutual(Dictionary<string, double> values, string place)
    {
        string[] needed = ["primary-turns", "primary-inner-radius", "primary-outer-radius", "secondary-turns", "secondary-inner-radius",
            "secondary-outer-radius", "gap"];
        string[] given = [.. needed.Where(values.ContainsKey)];
        if (given.Length == 0)
        {
            return null;
        }

        if (given.Length < needed.Length)
        {
            throw Problem(place,
                $"for the geometry {string.Join(", ", needed.Except(given))} is missing; give it, or the coupling instead.");
        }

        return (Get(values, "shield-factor") ?? 1) * Coil(values, "primary", place)
            .MutualInductance(Coil(values, "secondary", place), values["gap"], Get(values, "offset") ?? 0);
    }

    private static CoilGeometry Coil(Dictionary<string, double> values, string coil, string place)
    {
        double turns = values[coil + "-turns"];
        if (turns != Math.Floor(turns) || turns > 1000)
        {
            throw Problem(place, InvariantText.Of($"'{coil}-turns' is {turns}, expected a whole number from 1 to 1000."));
        }

        return new CoilGeometry
        {
            Turns = (int)turns,
            InnerRadiusM = values[coil + "-inner-radius"],
            OuterRadiusM = values[coil + "-outer-radius"],
        };
    }

    private static double? Get(Dictionary<string, double> values, string key) => values.TryGetValue(key, out double value) ? value : null;

    private static InputException Problem(string place, string sentence) => new(InputProblem.Usage, $"{place}: {sentence}");
}
