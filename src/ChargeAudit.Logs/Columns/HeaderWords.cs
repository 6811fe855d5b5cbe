using System.Collections.Frozen;
using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Columns;

/// <summary>What the words and symbols of headers name, in the languages of <c>header-words.tsv</c>.</summary>
internal static class HeaderWords
{
    // Two readings of one letter: in upper case the one, in lower case the other.
    private static readonly FrozenDictionary<string, LogQuantity> CaseMatters = new Dictionary<string, LogQuantity>(StringComparer.Ordinal)
    {
        ["T"] = LogQuantity.Temperature,
        ["t"] = LogQuantity.Time,
        ["s"] = LogQuantity.Time,
        ["ms"] = LogQuantity.Time,
        ["S"] = LogQuantity.ApparentPower,
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>What a name stands for.</summary>
    /// <param name="name">Header without its unit.</param>
    /// <param name="languages">Languages of the header, the likeliest first; null: whichever knows its words, English first.</param>
    /// <returns>The quantity, <see cref="LogQuantity.Ignored"/> where the words say none, and how well it fits: the higher the
    /// better.</returns>
    public static (LogQuantity Quantity, int Rank) Find(string name, IReadOnlyList<HeaderLanguage>? languages = null)
    {
        if (CaseMatters.TryGetValue(name.Trim(), out LogQuantity single))
        {
            return (single, 0);
        }

        List<string> words = Words(name);
        languages ??= HeaderLexicon.Languages;
        foreach (HeaderLanguage any in languages.Any(l => IsForeign(l, words)) ? [] : languages)
        {
            if (In(any, words) is { Quantity: not LogQuantity.Ignored } found)
            {
                return found;
            }
        }

        return (LogQuantity.Ignored, 0);
    }

    /// <summary>What a name stands for in one language alone, apart from signs.</summary>
    public static LogQuantity FindOnlyIn(HeaderLanguage language, string name)
    {
        List<string> words = Words(name);
        return IsForeign(language, words) ? LogQuantity.Ignored : language.Find(words)?.Quantity ?? LogQuantity.Ignored;
    }

    /// <summary>
    /// Whether a header refers to a cosine. For a distorted current the cosine of the phase shift is not real divided by apparent power,
    /// which is the power factor. <i>Source:</i> power factor and displacement factor as IEC 60050-131 tells them apart (from memory).
    /// </summary>
    public static bool SaysCosine(string header) => Words(header).Any(w => w.StartsWith("cos", StringComparison.Ordinal));

    /// <summary>How many different quantities a row of texts names.</summary>
    public static int CountQuantities(IEnumerable<string> fields) =>
        fields.Select(f => HeaderText.Parse(f)).Select(h => h.Quantity).Where(q => q != LogQuantity.Ignored).Distinct().Count();

    /// <summary>Whether the words of a header hold one of this kind, in any language.</summary>
    /// <param name="header">Header cell.</param>
    /// <param name="kind">A kind of word of the data file.</param>
    public static bool Says(string header, string kind)
    {
        List<string> words = Words(PlainText.Narrow(header));
        return HeaderLexicon.IsOfAny(kind, string.Join(' ', words)) || words.Any(w => HeaderLexicon.IsOfAny(kind, w));
    }

    /// <summary>Whether a header holds a word of this kind, in any language, be it a part of a longer one. Words of one or two letters do not
    /// count: they are prepositions.</summary>
    public static bool Holds(string header, string kind) =>
        Words(PlainText.Narrow(header)).Any(w => HeaderLexicon.Languages.Any(l => (w.Length > 2 || l.Unspaced) && l.Holds(kind, w)));

    /// <summary>Whether a word of a header says, in any language, that the column holds something that is not used.</summary>
    public static bool SaysOther(string header)
    {
        List<string> words = Words(PlainText.Narrow(header));
        return HeaderLexicon.Languages.Any(l => IsForeign(l, words));
    }

    /// <summary>Whether a header is a word or phrase of this kind and nothing else, in any language.</summary>
    public static bool IsOnly(string header, string kind) => HeaderLexicon.IsOfAny(kind, string.Join(' ', Words(PlainText.Narrow(header))));

    private static (LogQuantity Quantity, int Rank) In(HeaderLanguage language, List<string> words)
    {
        int rank = words.Count(w => HasKind(language, "main", w)) - (10 * words.Count(w => HasKind(language, "side", w)));
        var found = language.Find(words);
        var sign = HeaderLexicon.Signs.Find(words);
        found = found is null || sign?.Left < found.Value.Left ? sign : found;

        return found is { } f ? (f.Quantity, rank - Math.Min(5, f.Left)) : (LogQuantity.Ignored, 0);
    }

    private static bool IsForeign(HeaderLanguage language, List<string> words) => words.Any(w => HasKind(language, "foreign", w));

    private static bool HasKind(HeaderLanguage language, string kind, string word) =>
        language.Holds(kind, word) || HeaderLexicon.Signs.Is(kind, word);

    // Words in lower case and without accents, cut at signs, at digits' ends and where lower case turns to upper.
    private static List<string> Words(string name)
    {
        var words = new List<string>();
        var word = new StringBuilder();
        char before = ' ';
        foreach (char c in name)
        {
            bool part = char.IsLetterOrDigit(c) || c == '°' || c is >= '\u0300' and <= '\u036F';
            if (word.Length > 0 && (!part || (char.IsUpper(c) && char.IsLower(before))))
            {
                words.Add(PlainText.Fold(word.ToString()));
                word.Clear();
            }

            if (part)
            {
                word.Append(c);
            }

            before = c;
        }

        if (word.Length > 0)
        {
            words.Add(PlainText.Fold(word.ToString()));
        }

        return words;
    }
}
