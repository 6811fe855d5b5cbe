using System.Text;

namespace ChargeAudit.Logs.Columns;

/// <summary>Words that stand in place of a reading and say that the sensor was away: not available, unknown, off-line.</summary>
internal static class AwayWords
{
    private const int Longest = 48;

    /// <summary>Whether a field is such a word, in any language.</summary>
    public static bool Is(ReadOnlySpan<byte> field) =>
        field.Length is > 1 and <= Longest && field.IndexOfAnyInRange((byte)'0', (byte)'9') < 0 && Is(Encoding.UTF8.GetString(field));

    /// <summary>Whether a field is such a word, in any language.</summary>
    public static bool Is(string field) => field.Length is > 1 and <= Longest
        && HeaderLexicon.IsOfAny("away", PlainText.Fold(field.Trim()));
}
