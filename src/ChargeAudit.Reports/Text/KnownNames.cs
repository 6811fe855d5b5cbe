using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace ChargeAudit.Reports.Text;

/// <summary>The names of an audit as its sentences hold them. A name is looked up where a word begins, so that a sentence takes no longer
/// where there are thousands.</summary>
internal sealed class KnownNames
{
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);
    private readonly Dictionary<char, SortedSet<int>> _lengths = [];

    /// <summary>Notes what a way of writing a name stands for, in place of what it stood for before.</summary>
    /// <param name="written">The name as it is written; an empty one is never found.</param>
    /// <param name="name">The name.</param>
    public void Set(string written, string name)
    {
        _names[written] = name;
        if (written.Length > 0)
        {
            if (!_lengths.TryGetValue(written[0], out var lengths))
            {
                _lengths[written[0]] = lengths = [];
            }

            lengths.Add(written.Length);
        }
    }

    /// <summary>Notes a name where nothing is written like it yet.</summary>
    /// <param name="name">The name.</param>
    public void Add(string name)
    {
        if (!_names.ContainsKey(name))
        {
            Set(name, name);
        }
    }

    /// <summary>A sentence with other text in place of its names and figures; where a figure could start too, it is the name.</summary>
    /// <param name="sentence">The sentence.</param>
    /// <param name="ofName">What stands in place of a name.</param>
    /// <param name="ofFigure">What stands in place of a figure.</param>
    public string Replaced(string sentence, Func<string, string> ofName, Func<Match, string> ofFigure)
    {
        var replaced = new StringBuilder(sentence.Length);
        var figure = SaidFigure.Alone().Match(sentence);
        int taken = 0;
        for (int at = 0; at < sentence.Length;)
        {
            int length = LengthAt(sentence, at);
            bool isFigure = length == 0 && figure.Success && figure.Index == at;
            if (length == 0 && !isFigure)
            {
                at++;
                continue;
            }

            replaced.Append(sentence, taken, at - taken)
                .Append(isFigure ? ofFigure(figure) : ofName(_names[sentence.Substring(at, length)]));
            taken = at += isFigure ? figure.Length : length;
            if (figure.Success && figure.Index < at)
            {
                figure = SaidFigure.Alone().Match(sentence, at);
            }
        }

        return replaced.Append(sentence, taken, sentence.Length - taken).ToString();
    }

    // Of the names that start here and end with their word, the longest: "pad-1" is not "pad". Zero where there is none.
    private int LengthAt(string sentence, int at)
    {
        if ((at > 0 && (IsOfName(sentence[at - 1]) || sentence[at - 1] == '.')) || !_lengths.TryGetValue(sentence[at], out var lengths))
        {
            return 0;
        }

        var names = _names.GetAlternateLookup<ReadOnlySpan<char>>();
        return lengths.Reverse().FirstOrDefault(length => at + length <= sentence.Length
            && (at + length == sentence.Length || !IsOfName(sentence[at + length]))
            && names.ContainsKey(sentence.AsSpan(at, length)));
    }

    // A letter, a mark on one, a digit, a low line or a hyphen.
    private static bool IsOfName(char c) => c == '-' || char.IsLetter(c) || char.GetUnicodeCategory(c)
        is UnicodeCategory.NonSpacingMark or UnicodeCategory.DecimalDigitNumber or UnicodeCategory.ConnectorPunctuation;
}
