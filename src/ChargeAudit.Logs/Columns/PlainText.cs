using System.Text;

namespace ChargeAudit.Logs.Columns;

/// <summary>Header text with the differences of writing taken out that mean nothing: case, accents, wide forms. It needs no language data
/// of the system.</summary>
internal static class PlainText
{
    private const string Accented = "àáâãäåāăąçćĉċčďđèéêëēĕėęěĝğġģĥħìíîïĩīĭįıĵķĺļľŀłñńņňòóôõöøōŏőŕŗřśŝşšșţťŧțùúûüũūŭůűųŵýÿŷźżž";
    private const string Bare = "aaaaaaaaacccccddeeeeeeeeegggghhiiiiiiiiijklllllnnnnooooooooorrrsssssttttuuuuuuuuuuwyyyzzz";

    /// <summary>Wide Latin letters, digits and signs as East Asian keyboards write them, and a blank where such letters meet their
    /// script.</summary>
    /// <remarks>*Source:* The Unicode Standard, Halfwidth and Fullwidth Forms: U+FF01 to U+FF5E are U+0021 to U+007E.</remarks>
    public static string Narrow(string text)
    {
        if (text.AsSpan().IndexOfAnyInRange('\u2E80', '\uFFEE') < 0)
        {
            return text;
        }

        var narrow = new StringBuilder(text.Length + 4);
        foreach (char wide in text)
        {
            char c = wide is >= '\uFF01' and <= '\uFF5E' ? unchecked((char)(wide - 0xFEE0)) : wide is '\u3000' ? ' ' : wide is '\u3010'
                ? '['
                : wide is '\u3011' ? ']' : wide;
            char before = narrow.Length > 0 ? narrow[^1] : ' ';
            if ((IsUnspaced(before) && char.IsAsciiLetterOrDigit(c)) || (IsUnspaced(c) && char.IsAsciiLetterOrDigit(before)))
            {
                narrow.Append(' ');
            }

            narrow.Append(c);
        }

        return narrow.ToString();
    }

    /// <summary>Whether a letter belongs to a script that writes words without blanks between them.</summary>
    public static bool IsUnspaced(char c) =>
        c is (>= '\u2E80' and <= '\u9FFF') or (>= '\uAC00' and <= '\uD7AF') or (>= '\uF900' and <= '\uFAFF');

    /// <summary>Lower case without accents.</summary>
    public static string Fold(string word)
    {
        // Most words are folded already, and all of a language's are folded at every start.
        if (!word.AsSpan().ContainsAnyExceptInRange('\0', '\u007F') && !word.AsSpan().ContainsAnyInRange('A', 'Z'))
        {
            return word;
        }

        var plain = new StringBuilder(word.Length);
        foreach (char c in word)
        {
            // The dotted capital I of Turkish has no lower-case form of its own where no language is set; combining marks fall away.
            char lower = c == '\u0130' ? 'i' : char.ToLowerInvariant(c);
            int at = lower > '\u007F' ? Accented.IndexOf(lower, StringComparison.Ordinal) : -1;
            _ = at >= 0 ? plain.Append(Bare[at])
                : lower == 'ß' ? plain.Append("ss")
                : lower == 'æ' ? plain.Append("ae")
                : lower == 'œ' ? plain.Append("oe")
                : lower is >= '\u0300' and <= '\u036F' ? plain
                : plain.Append(lower);
        }

        return plain.ToString();
    }

    /// <summary>A word with its umlauts written as two letters; the word itself where it has none.</summary>
    public static string Spelt(string word) => word.Replace("ä", "ae", StringComparison.Ordinal)
        .Replace("ö", "oe", StringComparison.Ordinal).Replace("ü", "ue", StringComparison.Ordinal)
        .Replace("ø", "oe", StringComparison.Ordinal).Replace("å", "aa", StringComparison.Ordinal);
}
