using System.Buffers;
using System.Collections.Frozen;
using System.Text.RegularExpressions;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Tells comments and unit rows from rows of readings.</summary>
internal static partial class TextMarks
{
    /// <summary>Whether a line begins as a comment does.</summary>
    public static bool IsComment(ReadOnlySpan<byte> line, byte separator) =>
        line.Length > 0 && (line[0] is (byte)'#' or (byte)'%' || line.StartsWith("//"u8) || (line[0] == ';' && separator != ';'));

    /// <inheritdoc cref="IsComment(ReadOnlySpan{byte}, byte)"/>
    public static bool IsComment(ReadOnlySpan<char> line, char separator) =>
        line.Length > 0 && (line[0] is '#' or '%' || line.StartsWith("//") || (line[0] == ';' && separator != ';'));

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

    /// <summary>Whether a row draws a line under a header: <c>|---|:--:|</c>, <c>+----+----+</c>, <c>=====</c>.</summary>
    public static bool IsRule(IReadOnlyList<string> fields)
    {
        bool any = false;
        foreach (string field in fields)
        {
            if (field.AsSpan().ContainsAnyExcept(RuleSigns))
            {
                return false;
            }

            any |= field.Length > 2;
        }

        return any;
    }

    /// <summary>Whether a row holds names of data types and nothing else, as exports of databases have one near the header.</summary>
    public static bool IsTypeRow(IReadOnlyList<string> fields)
    {
        int types = 0;
        bool certain = false;
        foreach (string field in fields.Where(f => f.Length > 0))
        {
            string word = TypeWord().Match(field).Value.ToLowerInvariant();
            bool only = word.Length > 0 && (word.Length == field.Length || field[word.Length] is '(' or ':' or ' ');
            if (!only || !(Types.Contains(word) || TimeTypes.Contains(word)))
            {
                return false;
            }

            types++;
            certain |= Types.Contains(word);
        }

        return certain && types >= (fields.Count + 1) / 2;
    }

    private static readonly SearchValues<char> RuleSigns = SearchValues.Create("-=+:_ ");

    private static readonly FrozenSet<string> Types = FrozenSet.ToFrozenSet(
        [
            "string", "text", "varchar", "char", "float", "float32", "float64", "double", "real", "decimal", "numeric", "number", "int",
                "int8", "int16", "int32", "int64", "uint", "uint8",
            "uint16", "uint32", "uint64", "integer", "bigint", "smallint", "long", "short", "bool", "boolean", "byte", "enum", "tag",
                "ignore",
        ],
        StringComparer.Ordinal);

    // Words that may be a header as well.
    private static readonly FrozenSet<string> TimeTypes =
        FrozenSet.ToFrozenSet(["date", "time", "datetime", "timestamp", "timestamptz", "duration", "interval"], StringComparer.Ordinal);

    [GeneratedRegex(@"^[A-Za-z]+[0-9]*")]
    private static partial Regex TypeWord();

    /// <summary>A unit symbol without the brackets around it.</summary>
    public static string UnitOf(string field) => Brackets().Replace(field.Trim(), "$1").Trim();

    [GeneratedRegex(@"^[\[(](.*)[\])]$")]
    private static partial Regex Brackets();
}
