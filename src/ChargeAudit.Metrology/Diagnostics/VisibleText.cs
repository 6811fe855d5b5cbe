using System.Globalization;
using System.Text;

namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>
/// Makes text from files safe to show: characters that a terminal or a page would obey instead of showing are written out by name, such as
/// <c>U+001B</c>. The one place that decides which these are.
/// </summary>
/// <remarks>*Source:* Unicode Standard, 23.1 (control codes: C0, DEL, C1) and UAX #9, 2 (directional formatting characters).</remarks>
public static class VisibleText
{
    /// <summary>The text with nothing in it that a terminal or a page would obey: no escape, bell, newline or other control character, no
    /// change of direction, no half of a character.</summary>
    /// <param name="text">Any text.</param>
    /// <param name="lines">Whether tabs and ends of lines stay as they are.</param>
    public static string Of(string text, bool lines = false)
    {
        ArgumentNullException.ThrowIfNull(text);
        int first = FirstObeyed(text, 0);
        if (first < 0)
        {
            return text;
        }

        var shown = new StringBuilder(text, 0, first, text.Length + 16);
        for (int i = first; i < text.Length; i++)
        {
            if (IsObeyed(text, i) && !(lines && (text[i] is '\t' or '\n' or '\r')))
            {
                shown.Append(CultureInfo.InvariantCulture, $"<U+{(int)text[i]:X4}>");
            }
            else
            {
                shown.Append(text[i]);
            }
        }

        return shown.ToString();
    }

    /// <summary>Whether a text holds nothing that is obeyed instead of shown.</summary>
    /// <param name="text">Any text.</param>
    public static bool IsPlain(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return FirstObeyed(text, 0) < 0;
    }

    private static int FirstObeyed(string text, int from)
    {
        for (int i = from; i < text.Length; i++)
        {
            if (IsObeyed(text, i))
            {
                return i;
            }
        }

        return -1;
    }

    private static bool IsObeyed(string text, int at)
    {
        char c = text[at];
        return c < ' '
            || (c > '~'
            && (c <= '\u009F' || c is '\u061C' or '\u200E' or '\u200F' or '\u2028' or '\u2029' or (>= '\u202A' and <= '\u202E')
            or (>= '\u2066' and <= '\u2069') or '\uFEFF'
            || (char.IsSurrogate(c) && !IsPaired(text, at))));
    }

    private static bool IsPaired(string text, int at) => char.IsHighSurrogate(text[at])
        ? at + 1 < text.Length && char.IsLowSurrogate(text[at + 1])
        : at > 0 && char.IsHighSurrogate(text[at - 1]);
}
