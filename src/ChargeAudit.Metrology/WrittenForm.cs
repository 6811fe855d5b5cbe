using System.Globalization;

namespace ChargeAudit.Metrology;

/// <summary>
/// How readers of a language and country write numbers and dates. While one is in use, texts for people are made with its decimal mark,
/// groups of digits and order of a date; each flow of work has its own. Files for programs never follow it.
/// </summary>
/// <param name="Tag">Language, and country where it differs. <i>Source:</i> RFC 5646.</param>
/// <param name="DecimalMark">Stands before the decimals.</param>
/// <param name="GroupMark">Stands between groups of three digits.</param>
/// <param name="Date">A date, from <c>yyyy</c>, <c>MM</c> or <c>M</c>, and <c>dd</c> or <c>d</c>.</param>
public sealed record WrittenForm(string Tag, string DecimalMark, string GroupMark, string Date)
{
    private static readonly AsyncLocal<InUse?> Used = new();

    /// <summary>Every form that is known, by tag.</summary>
    public static IReadOnlyList<WrittenForm> All => WrittenForms.Table;

    /// <summary>The form in use; null: a decimal point, no groups, and dates as year-month-day.</summary>
    public static WrittenForm? Current => Used.Value?.Form;

    /// <summary>Whether texts get the marks of the form at once, as a drawing needs them.</summary>
    internal static bool IsDirect => Used.Value is { Direct: true };

    /// <summary>
    /// The form for a tag, which may be one of a system's locale names, such as <c>de_CH.UTF-8</c>. A country that is not known falls back
    /// to its language. <i>Source:</i> RFC 4647, 3.4 (lookup).
    /// </summary>
    /// <param name="tag">The tag, in any case of letters.</param>
    /// <returns>The form; null where not even the language is known.</returns>
    public static WrittenForm? Find(string tag)
    {
        ArgumentNullException.ThrowIfNull(tag);
        int end = tag.AsSpan().IndexOfAny('.', '@');
        string rest = (end < 0 ? tag : tag[..end]).Replace('_', '-');
        while (true)
        {
            if (All.FirstOrDefault(f => f.Tag.Equals(rest, StringComparison.OrdinalIgnoreCase)) is { } form)
            {
                return form;
            }

            int cut = rest.LastIndexOf('-');
            if (cut <= 0)
            {
                return null;
            }

            rest = rest[..cut];
        }
    }

    /// <summary>A day in this form.</summary>
    /// <param name="day">The day.</param>
    public string Day(DateOnly day) => day.ToString(Date, CultureInfo.InvariantCulture);

    /// <summary>Uses this form for texts for people until what is returned is disposed.</summary>
    public IDisposable Use() => Change(new InUse(this, Direct: false));

    /// <summary>Gives texts the marks of the form in use at once, until what is returned is disposed.</summary>
    public static IDisposable UseDirectly() => Change(Current is { } form ? new InUse(form, Direct: true) : null);

    private static Restored Change(InUse? next)
    {
        var before = Used.Value;
        Used.Value = next;
        return new Restored(before);
    }

    private sealed record InUse(WrittenForm Form, bool Direct);

    private sealed class Restored(InUse? before) : IDisposable
    {
        public void Dispose() => Used.Value = before;
    }
}
