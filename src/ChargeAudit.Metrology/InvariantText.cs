using System.Globalization;
using System.Runtime.CompilerServices;

namespace ChargeAudit.Metrology;

/// <summary>An interpolated text in the invariant culture. One sentence may be written in several pieces, each an interpolated string
/// itself, and no array of the values in its holes is allocated.</summary>
[InterpolatedStringHandler]
public ref struct InvariantText
{
    private DefaultInterpolatedStringHandler _text;

    /// <summary>Called by the compiler with the number of characters outside the holes, and of holes.</summary>
    public InvariantText(int literalLength, int formattedCount) =>
        _text = new DefaultInterpolatedStringHandler(literalLength, formattedCount, CultureInfo.InvariantCulture);

    /// <summary>The text in the invariant culture.</summary>
    public static string Of(InvariantText text) => text.ToStringAndClear();

    /// <summary>Called by the compiler for a piece outside the holes.</summary>
    public void AppendLiteral(string value) => _text.AppendLiteral(value);

    /// <summary>Called by the compiler for a hole.</summary>
    public void AppendFormatted<T>(T value) => _text.AppendFormatted(value);

    /// <summary>Called by the compiler for a hole with a format.</summary>
    public void AppendFormatted<T>(T value, string? format) => _text.AppendFormatted(value, format);

    /// <summary>The text; the handler must not be used afterwards.</summary>
    public string ToStringAndClear() => _text.ToStringAndClear();
}
