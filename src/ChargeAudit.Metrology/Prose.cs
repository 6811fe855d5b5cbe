using System.Globalization;
using System.Runtime.CompilerServices;

namespace ChargeAudit.Metrology;

/// <summary>
/// An interpolated sentence for people: its numbers and dates follow the <see cref="WrittenForm"/> in use. What a program reads, what
/// names something and what is to be typed is an <see cref="InvariantText"/> instead. Whole numbers, times of day and strings stay as
/// they are. One sentence may be written in several pieces, each an interpolated string itself.
/// </summary>
[InterpolatedStringHandler]
public ref struct Prose
{
    private DefaultInterpolatedStringHandler _text;

    /// <summary>Called by the compiler with the number of characters outside the holes, and of holes.</summary>
    public Prose(int literalLength, int formattedCount) =>
        _text = new DefaultInterpolatedStringHandler(literalLength, formattedCount, CultureInfo.InvariantCulture);

    /// <summary>The sentence.</summary>
    public static string Of(Prose text) => text.ToStringAndClear();

    /// <summary>Called by the compiler for a piece outside the holes.</summary>
    public void AppendLiteral(string value) => _text.AppendLiteral(value);

    /// <summary>Called by the compiler for a hole.</summary>
    public void AppendFormatted<T>(T value) => AppendFormatted(value, null);

    /// <summary>Called by the compiler for a hole with a format.</summary>
    public void AppendFormatted<T>(T value, string? format)
    {
        if (WrittenForm.Current is null)
        {
            _text.AppendFormatted(value, format);
            return;
        }

        switch (value)
        {
            case double or float or decimal:
                _text.AppendLiteral(WrittenMarks.Number(((IFormattable)value).ToString(format, CultureInfo.InvariantCulture)));
                break;
            case DateOnly or DateTime or DateTimeOffset:
                _text.AppendLiteral(WrittenMarks.Date(((IFormattable)value).ToString(format, CultureInfo.InvariantCulture)));
                break;
            default:
                _text.AppendFormatted(value, format);
                break;
        }
    }

    /// <summary>The sentence; the handler must not be used afterwards.</summary>
    public string ToStringAndClear() => _text.ToStringAndClear();
}
