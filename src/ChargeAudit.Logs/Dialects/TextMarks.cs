using System.Text.RegularExpressions;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Tells comments and unit rows from rows of readings.</summary>
internal static partial class TextMarks
{
    /// <summary>Whether a line begins as a comment does.</summary>
    public static bool IsComment(ReadOnlySpan<byte> line, byte separator) =>
        line.Length > 0 && (line[0] is (byte)'#' or (byte)'%' || line.StartsWith("//"u8) || (line[0] == ';' && separator != ';'));

    /// <summary>Whether a row holds unit symbols and nothing else.</summary>
    public static bool IsUnitRow(IReadOnlyList<string> fields)
    {
        int units = 0;
        foreach (string field in fields)
        {
            if (UnitOf(field).Length > 0 && UnitTable.TryFind(UnitOf(field), out _))
            {
                units++;
            }
            else if (field.Any(char.IsAsciiDigit) || field.Length > 24)
            {
                return false;
            }
        }

        return units > 0 && units >= (fields.Count(f => f.Length > 0) + 1) / 2 && fields.All(f => f.Length <= 24);
    }

    /// <summary>A unit symbol without the brackets around it.</summary>
    public static string UnitOf(string field) => Brackets().Replace(field.Trim(), "$1").Trim();

    [GeneratedRegex(@"^[\[(](.*)[\])]$")]
    private static partial Regex Brackets();
}
