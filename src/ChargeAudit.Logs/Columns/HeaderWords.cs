using System.Collections.Frozen;
using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Columns;

/// <summary>The words and symbols by which headers name quantities, in English and in the trade's usual signs.</summary>
internal static class HeaderWords
{
    private static readonly (LogQuantity Quantity, string Phrases)[] Table =
    [
        (LogQuantity.Voltage, "voltage|volt|volts|u|v|vbus|ubus|vrms|urms|vdc|udc|vac|uac|vin|vout|v bus|v rms|u rms|vusb|vbat"),
        (LogQuantity.Current, "current|amperage|amp|amps|ampere|amperes|i|ibus|irms|idc|iac|iin|iout|i bus|i rms|a|ma|iusb|ibat"),
        (LogQuantity.Power, "power|watt|watts|wattage|p|active power|real power|true power|pactive|w|mw|kw|load"),
        (LogQuantity.ApparentPower, "apparent power|apparent|s|va"),
        (LogQuantity.PowerFactor, "power factor|true power factor|real power factor|active power factor|powerfactor|pf|cos φ|cosφ|cos phi|cosphi|cos ϕ|cos|λ|lambda"),
        (LogQuantity.Energy, "energy|e|work|consumption|total energy|energy total|wh|kwh|mwh|watt hours|kilowatt hours|active energy|real energy|total consumption"),
        (LogQuantity.Charge, "charge|capacity|q|ah|mah|ampere hours|amp hours|coulombs"),
        (LogQuantity.Temperature, "temperature|temp|°c|celsius"),
        (LogQuantity.Frequency, "frequency|freq|f|hz|line frequency|mains frequency"),
        (LogQuantity.Time, "time|timestamp|time stamp|datetime|date time|elapsed|elapsed time|time elapsed|test time|run time|runtime|unix time|unixtime|unix|epoch|uptime|seconds|secs|sec|millis|milliseconds|minutes|hours|duration|ts|t|timepoint|record time|log time|local time|utc"),
        (LogQuantity.Date, "date|day"),
    ];

    // Two readings of one letter: in upper case the one, in lower case the other.
    private static readonly FrozenDictionary<string, LogQuantity> CaseMatters = new Dictionary<string, LogQuantity>(StringComparer.Ordinal)
    {
        ["T"] = LogQuantity.Temperature,
        ["t"] = LogQuantity.Time,
        ["s"] = LogQuantity.Time,
        ["ms"] = LogQuantity.Time,
        ["S"] = LogQuantity.ApparentPower,
    }.ToFrozenDictionary(StringComparer.Ordinal);

    private static readonly FrozenDictionary<string, LogQuantity> Phrases = Table
        .SelectMany(row => row.Phrases.Split('|').Select(phrase => KeyValuePair.Create(phrase, row.Quantity)))
        .ToFrozenDictionary(StringComparer.Ordinal);

    // A column that carries one of these is not the plain reading: it is used only where there is no other.
    private static readonly FrozenSet<string> SideWords = FrozenSet.ToFrozenSet(
        [
            "min", "minimum", "max", "maximum", "peak", "set", "setpoint", "limit", "target", "nominal", "rated", "ref", "reference", "dp", "dm", "d", "cc",
            "cc1", "cc2", "error", "uncertainty", "std", "stdev", "sigma", "raw", "internal", "offset", "delta", "ripple", "status", "mode", "range", "estimated",
            "reverse", "export", "exported", "returned", "negative",
        ],
        StringComparer.Ordinal);

    private static readonly FrozenSet<string> MainWords = FrozenSet.ToFrozenSet(
        ["avg", "average", "mean", "active", "real", "true", "total", "rms", "input", "in"], StringComparer.Ordinal);

    // Names that would else be taken for one of the quantities above.
    private static readonly FrozenSet<string> Foreign = FrozenSet.ToFrozenSet(
        ["displacement", "fundamental", "reactive", "var", "kvar", "varh", "soc", "state", "percent", "step", "cycle", "index", "number", "no", "count", "id", "channel", "resistance", "thd"],
        StringComparer.Ordinal);

    /// <summary>What a name stands for.</summary>
    /// <param name="name">Header without its unit.</param>
    /// <returns>The quantity, <see cref="LogQuantity.Ignored"/> where the words say none, and how well it fits: the higher the better.</returns>
    public static (LogQuantity Quantity, int Rank) Find(string name)
    {
        if (CaseMatters.TryGetValue(name.Trim(), out LogQuantity single))
        {
            return (single, 0);
        }

        List<string> words = Words(name);
        if (words.Any(Foreign.Contains))
        {
            return (LogQuantity.Ignored, 0);
        }

        int rank = words.Count(MainWords.Contains) - (10 * words.Count(SideWords.Contains));
        for (int length = Math.Min(3, words.Count); length >= 1; length--)
        {
            for (int from = 0; from + length <= words.Count; from++)
            {
                if (Phrases.TryGetValue(string.Join(' ', words.Skip(from).Take(length)), out LogQuantity quantity))
                {
                    return (quantity, rank - Math.Min(5, words.Count - length));
                }
            }
        }

        return (LogQuantity.Ignored, 0);
    }

    /// <summary>
    /// Whether a header speaks of a cosine. For a distorted current the cosine of the phase shift is not real power by apparent power, which is the power
    /// factor. <i>Source:</i> power factor and displacement factor as IEC 60050-131 tells them apart (from memory).
    /// </summary>
    public static bool SaysCosine(string header) => Words(header).Any(w => w.StartsWith("cos", StringComparison.Ordinal));

    /// <summary>How many different quantities a row of texts names.</summary>
    public static int CountQuantities(IEnumerable<string> fields) =>
        fields.Select(f => HeaderText.Parse(f)).Select(h => h.Quantity).Where(q => q != LogQuantity.Ignored).Distinct().Count();

    // Words in lower case, cut at signs, at digits' ends and where lower case turns to upper.
    private static List<string> Words(string name)
    {
        var words = new List<string>();
        var word = new StringBuilder();
        char before = ' ';
        foreach (char c in name)
        {
            bool part = char.IsLetterOrDigit(c) || c == '°';
            if (word.Length > 0 && (!part || (char.IsUpper(c) && char.IsLower(before))))
            {
                words.Add(word.ToString());
                word.Clear();
            }

            if (part)
            {
                word.Append(char.ToLowerInvariant(c));
            }

            before = c;
        }

        if (word.Length > 0)
        {
            words.Add(word.ToString());
        }

        return words;
    }
}
