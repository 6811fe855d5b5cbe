using System.Globalization;
using System.Text;

namespace ChargeAudit.Metrology;

/// <summary>
/// Numbers and dates within texts for people. A number is known when the text is made, never found in a finished one, where it might belong
/// to a name. So while a <see cref="WrittenForm"/> is in use its decimal point, groups and dates are kept as marks, which are noncharacters
/// and occur in no name; whatever shows a text turns them into the reader's form, whatever writes it for a program into the exact one.
/// <i>Source:</i> Unicode Standard, 23.7 (noncharacters U+FDD0 to U+FDEF, for use within a program).
/// </summary>
public static class WrittenMarks
{
    /// <summary>The marks, as the members of a character class of a pattern for numbers.</summary>
    public const string InPattern = @"\uFDD0-\uFDD3";

    private const char Point = '\uFDD0', Group = '\uFDD1', CountGroup = '\uFDD2', ShortGroup = '\uFDD3', DateJoint = '\uFDD4';

    // From five digits on: 1.234 could be read as one and a bit. So also the SI Brochure, 9th edition, 5.4.4.
    private const int FewestGrouped = 5;

    /// <summary>A number that was written with a decimal point and no groups.</summary>
    /// <param name="exact">Such as <c>-12345.6</c>.</param>
    public static string Number(string exact)
    {
        ArgumentNullException.ThrowIfNull(exact);
        if (WrittenForm.Current is null)
        {
            return exact;
        }

        int start = exact.AsSpan().IndexOfAnyInRange('0', '9');
        int end = start;
        while (start >= 0 && end < exact.Length && char.IsAsciiDigit(exact[end]))
        {
            end++;
        }

        var text = new StringBuilder(exact.Length + 4);
        bool grouped = end - start >= FewestGrouped;
        for (int i = 0; i < exact.Length; i++)
        {
            if (grouped && i > start && i < end && (end - i) % 3 == 0)
            {
                text.Append(Group);
            }

            text.Append(exact[i] == '.' ? Point : exact[i]);
        }

        return Made(text.ToString());
    }

    /// <summary>A count, digits in groups.</summary>
    /// <param name="count">The count.</param>
    public static string Count(long count)
    {
        string digits = count.ToString("#,0", CultureInfo.InvariantCulture);
        char mark = Math.Abs(count) < 10_000 ? ShortGroup : CountGroup;
        return WrittenForm.Current is null ? digits.Replace(',', '\u00a0') : Made(digits.Replace(',', mark));
    }

    /// <summary>A date, or a date with a time after it, that was written as year-month-day.</summary>
    /// <param name="iso">Such as <c>2026-03-04</c> or <c>2026-03-04 10:00</c>.</param>
    public static string Date(string iso)
    {
        ArgumentNullException.ThrowIfNull(iso);
        return WrittenForm.Current is null || iso.Length < 10 || iso[4] != '-' || iso[7] != '-'
            ? iso
            : Made($"{iso[..4]}{DateJoint}{iso[5..7]}{DateJoint}{iso[8..]}");
    }

    /// <summary>A text as the reader sees it, in the form in use.</summary>
    /// <param name="text">A text that may hold marks.</param>
    public static string Shown(string text) => WrittenForm.Current is { } form ? Replaced(text, form) : Exact(text);

    /// <summary>A text as files for programs hold it.</summary>
    /// <param name="text">A text that may hold marks.</param>
    public static string Exact(string text) => Replaced(text, null);

    /// <summary>The same for a finished JSON document, whose writer puts marks as <c>\uFDD0</c>.</summary>
    /// <param name="json">The document.</param>
    public static string ExactJson(string json) => InJson(json, Exact);

    /// <summary>A finished JSON document whose texts a page shows.</summary>
    /// <param name="json">The document.</param>
    public static string ShownJson(string json) => InJson(json, Shown);

    /// <summary>The same for a document that is being written: a stream that replaces marks and passes all else on. It leaves the stream
    /// below it open.</summary>
    /// <param name="to">Takes the document, in UTF-8.</param>
    public static Stream ExactJson(Stream to) => new ExactJsonStream(to, mark => Exact(mark.ToString()));

    // In a drawing nothing comes between a text and the picture.
    private static string Made(string text) => WrittenForm.IsDirect ? Shown(text) : text;

    private static string Replaced(string text, WrittenForm? form)
    {
        ArgumentNullException.ThrowIfNull(text);
        int first = text.AsSpan().IndexOfAnyInRange(Point, DateJoint);
        if (first < 0)
        {
            return text;
        }

        var shown = new StringBuilder(text.Length);
        for (int i = 0; i < text.Length; i++)
        {
            if (i + 10 <= text.Length && text[i + 4] == DateJoint && text[i + 7] == DateJoint)
            {
                shown.Append(Day(text.AsSpan(i, 10), form));
                i += 9;
                continue;
            }

            shown.Append(text[i] switch
            {
                Point => form?.DecimalMark ?? ".",
                Group => form?.GroupMark ?? "",
                CountGroup => form?.GroupMark ?? "\u00a0",
                ShortGroup => form is null ? "\u00a0" : "",
                DateJoint => "-",
                char c => c.ToString(),
            });
        }

        return shown.ToString();
    }

    private static string Day(ReadOnlySpan<char> marked, WrittenForm? form)
    {
        string iso = marked.ToString().Replace(DateJoint, '-');
        return form is not null && DateOnly.TryParseExact(iso, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? form.Day(day)
            : iso;
    }

    // A reversed solidus of the text is doubled in JSON, so going from one to the next meets no false mark.
    private static string InJson(string json, Func<string, string> replace)
    {
        ArgumentNullException.ThrowIfNull(json);
        if (!json.Contains(@"\ufdd", StringComparison.OrdinalIgnoreCase))
        {
            return replace(json);
        }

        var text = new StringBuilder(json.Length);
        for (int i = 0; i < json.Length; i++)
        {
            if (json[i] == '\\' && i + 5 < json.Length
                && json.AsSpan(i + 1, 4).Equals("ufdd", StringComparison.OrdinalIgnoreCase) && json[i + 5] is >= '0' and <= '4')
            {
                text.Append((char)(Point + (json[i + 5] - '0')));
                i += 5;
            }
            else if (json[i] == '\\' && i + 1 < json.Length)
            {
                text.Append(json, i++, 2);
            }
            else
            {
                text.Append(json[i]);
            }
        }

        return replace(text.ToString());
    }
}
