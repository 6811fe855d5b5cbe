using System.Text;
using ChargeAudit.Logs.Columns;

namespace ChargeAudit.Logs.Time;

/// <summary>Names of months in the languages of the Latin script that headers are read in, by what they begin with.</summary>
internal static class MonthNames
{
    private const string English = "jan feb mar apr may jun jul aug sep oct nov dec";

    // Beginnings without accents, the months of a year between bars; common practice, no source. A longer one goes before a shorter one.
    private static readonly (string Begins, int Month)[] Others =
    [
        .. new[]
        {
            "ene|gen|sty|led|ocak|oca|tammi",
            "fev|fevr|lut|uno|sub|helmi",
            "mae|marz|mrt|mrz|brez|bre|maalis",
            "avr|abr|kwi|dub|nis|huhti",
            "mai|mei|mag|maj|kve|touko",
            "juin|giu|cze|cervna|cerven|haz|kesa",
            "juil|lug|lip|cervence|cervenec|tem|heina",
            "aout|aou|ago|sie|srp|elo",
            "set|wrz|zar|eyl|syys",
            "okt|out|ott|paz|rij|eki|loka",
            "lis|kas|marras",
            "dez|dic|des|gru|pro|ara|joulu",
        }.SelectMany((names, i) => names.Split('|').Select(n => (n, i + 1))).OrderByDescending(n => n.n.Length),
    ];

    /// <summary>Takes the name of a month, whole or shortened, in lower or upper case; "de" may stand before it.</summary>
    public static bool TryTake(ref ByteCursor cursor, out long month)
    {
        ReadOnlySpan<byte> letters = cursor.TakeLetters();
        if (letters.SequenceEqual("de"u8))
        {
            cursor.SkipBlanks();
            letters = cursor.TakeLetters();
        }

        Span<char> first = stackalloc char[3];
        for (int i = 0; i < 3; i++)
        {
            first[i] = i < letters.Length ? char.ToLowerInvariant((char)letters[i]) : ' ';
        }

        int at = English.AsSpan().IndexOf(first);
        int english = letters.Length >= 3 && at >= 0 ? (at / 4) + 1 : 0;
        month = letters.Length == 3 ? english : 0;
        if (month == 0)
        {
            string word = PlainText.Fold(Encoding.UTF8.GetString(letters));
            month = Others.FirstOrDefault(o => word.StartsWith(o.Begins, StringComparison.Ordinal)).Month is > 0 and int other
                ? other
                : english;
        }

        return month > 0;
    }
}
