using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Columns;

/// <summary>The words of one language by which headers name what a column holds.</summary>
internal sealed class HeaderLanguage
{
    // A shorter word stands at the end of too many others.
    private const int ShortestEnd = 4;

    private readonly Dictionary<string, LogQuantity> _quantities;
    private readonly Dictionary<string, HashSet<string>> _kinds;
    private readonly (string Phrase, LogQuantity Quantity)[] _byLength;

    /// <summary>A language of these lines of the data file.</summary>
    public HeaderLanguage(string code, IEnumerable<(string Kind, string Phrase, string Text)> lines)
    {
        Code = code;
        var all = lines.ToList();
        Name = all.First(l => l.Kind == "name").Phrase;
        string manner = all.First(l => l.Kind == "name").Text;
        Compounds = manner == "compounds";
        Unspaced = manner == "unspaced";
        var quantities = new Dictionary<string, LogQuantity>(StringComparer.Ordinal);
        var kinds = new Dictionary<string, HashSet<string>>(StringComparer.Ordinal);
        foreach (var (kind, phrase, _) in all.Where(l => l.Kind != "name"))
        {
            foreach (string spelling in new[] { PlainText.Fold(phrase), PlainText.Fold(PlainText.Spelt(phrase)) })
            {
                if (HeaderLexicon.QuantityOf(kind) is LogQuantity quantity)
                {
                    quantities.TryAdd(spelling, quantity);
                }
                else
                {
                    (kinds.TryGetValue(kind, out HashSet<string>? set) ? set : kinds[kind] = []).Add(spelling);
                }
            }
        }

        Doubts = all.Where(l => l.Kind == "doubt").ToDictionary(l => PlainText.Fold(l.Phrase), l => l.Text, StringComparer.Ordinal);
        _quantities = quantities;
        _kinds = kinds;
        _byLength = [.. quantities.Select(q => (q.Key, q.Value)).OrderByDescending(q => q.Key.Length)];
    }

    /// <summary>Its code in ISO 639; <c>signs</c> for the trade's signs, which belong to no language.</summary>
    public string Code { get; }

    /// <summary>Its name in English.</summary>
    public string Name { get; }

    /// <summary>Whether words are put together to longer ones whose end says what they are.</summary>
    public bool Compounds { get; }

    /// <summary>Whether words are written without blanks between them.</summary>
    public bool Unspaced { get; }

    /// <summary>Words that alone may mean something else, each with the sentence that says what.</summary>
    public Dictionary<string, string> Doubts { get; }

    /// <summary>Whether a folded word or phrase is of this kind.</summary>
    public bool Is(string kind, string folded) => _kinds.TryGetValue(kind, out HashSet<string>? set) && set.Contains(folded);

    /// <summary>Whether a word holds one of this kind: as a whole, anywhere in it where words are written without blanks, or at its
    /// beginning where words are put together.</summary>
    public bool Holds(string kind, string folded)
    {
        if (!_kinds.TryGetValue(kind, out HashSet<string>? set))
        {
            return false;
        }

        // A reading of a thing that is not used is told by its end, as that of any other.
        return set.Contains(folded) || (Unspaced ? set.Any(s => folded.Contains(s, StringComparison.Ordinal))
            : Compounds && kind != "foreign"
            && set.Any(s => s.Length >= ShortestEnd && folded.Length >= s.Length + ShortestEnd
                && folded.StartsWith(s, StringComparison.Ordinal)));
    }

    /// <summary>The symbol of the unit that a folded word names; null where it names none.</summary>
    public string? UnitSymbol(string folded) =>
        _kinds.FirstOrDefault(k => k.Key.StartsWith("unit:", StringComparison.Ordinal) && k.Value.Contains(folded)).Key?[5..];

    /// <summary>What folded words stand for: the longest phrase of them first, then the end of a compound.</summary>
    /// <returns>The quantity, and how many words were left over; null where they stand for none.</returns>
    public (LogQuantity Quantity, int Left)? Find(IReadOnlyList<string> words)
    {
        for (int length = Math.Min(4, words.Count); length >= 1; length--)
        {
            for (int from = 0; from + length <= words.Count; from++)
            {
                if (_quantities.TryGetValue(length == 1
                    ? words[from]
                    : string.Join(' ', words.Skip(from).Take(length)), out LogQuantity quantity))
                {
                    return (quantity, words.Count - length);
                }
            }
        }

        foreach (string word in Compounds || Unspaced ? words : [])
        {
            foreach (var (phrase, quantity) in _byLength)
            {
                bool found = Unspaced ? word.Contains(phrase, StringComparison.Ordinal)
                    : phrase.Length >= ShortestEnd && word.Length > phrase.Length && word.EndsWith(phrase, StringComparison.Ordinal);
                if (found)
                {
                    return (quantity, words.Count);
                }
            }
        }

        return null;
    }
}
