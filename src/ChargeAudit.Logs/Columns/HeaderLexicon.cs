using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Columns;

/// <summary>All languages of the data file <c>header-words.tsv</c>, read once.</summary>
internal static class HeaderLexicon
{
    private static readonly Dictionary<string, LogQuantity> Quantities =
        Enum.GetValues<LogQuantity>().Where(q => q != LogQuantity.Ignored).ToDictionary(StableName.Of, StringComparer.Ordinal);

    private static readonly HeaderLanguage[] All = Read();

    /// <summary>The trade's signs, which occur in headers of any language.</summary>
    public static HeaderLanguage Signs => All[0];

    /// <summary>All languages, English first.</summary>
    public static IReadOnlyList<HeaderLanguage> Languages { get; } = All[1..];

    /// <summary>
    /// Languages of a header, the likeliest first: the one that knows most of its cells, and others that know as many or at least two;
    /// English last where it is not among them. Where English knows as many as another, it goes first.
    /// </summary>
    /// <returns>Each with the number of cells that it knows.</returns>
    public static IReadOnlyList<(HeaderLanguage Language, int Cells)> Of(IEnumerable<string> names)
    {
        string[] cells = [.. names];
        var known = Languages.Select(l => (Language: l, Cells: cells.Count(c => HeaderWords.FindOnlyIn(l, c) != LogQuantity.Ignored)))
            .ToList();
        int most = known.Max(k => k.Cells);
        bool Knows((HeaderLanguage Language, int Cells) k) => k.Cells > 0 && (k.Cells == most || k.Cells > 1);
        return [.. known.Where(Knows).OrderByDescending(k => k.Cells), .. known.Where(k => k.Language.Code == "en" && !Knows(k))];
    }

    /// <summary>Whether a word of any language, or a sign, is of this kind.</summary>
    public static bool IsOfAny(string kind, string folded) => Array.Exists(All, l => l.Is(kind, folded));

    /// <summary>The quantity that a line of the data file is about; null where it is about something else.</summary>
    public static LogQuantity? QuantityOf(string kind) => Quantities.TryGetValue(kind, out LogQuantity quantity) ? quantity : null;

    /// <summary>The unit of this symbol, or of this name in any language.</summary>
    public static bool TryFindUnit(string text, out Unit unit)
    {
        if (UnitTable.TryFind(text, out unit))
        {
            return true;
        }

        string folded = PlainText.Fold(text.Trim());
        return Languages.Select(l => l.UnitSymbol(folded)).FirstOrDefault(s => s is not null) is string symbol
            && UnitTable.TryFind(symbol, out unit);
    }

    private static HeaderLanguage[] Read()
    {
        var lines = new List<(string Code, string Kind, string Phrase, string Text)>();
        foreach (string[] fields in BuiltIn.Rows(typeof(HeaderLexicon).Assembly, "header-words.tsv"))
        {
            string text = fields.Length > 3 ? fields[3] : "";
            lines.AddRange(fields[2].Split('|').Select(phrase => (fields[0], fields[1], phrase, text)));
        }

        return [.. lines.GroupBy(l => l.Code).Select(g => new HeaderLanguage(g.Key, g.Select(l => (l.Kind, l.Phrase, l.Text))))];
    }
}
