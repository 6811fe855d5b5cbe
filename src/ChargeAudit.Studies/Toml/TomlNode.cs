using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Units;
using Tomlyn;
using Tomlyn.Parsing;

namespace ChargeAudit.Studies.Toml;

/// <summary>A value in a TOML document with the line on which it stands, so that every complaint can name it.</summary>
/// <param name="Line">Line number, counted from 1.</param>
/// <param name="Value">
/// A <see cref="string"/>, <see cref="double"/>, <see cref="bool"/>, <see cref="TomlDateTime"/>,
/// a list of nodes, or a dictionary of nodes by key in the order of the file.
/// </param>
internal sealed record TomlNode(int Line, object Value)
{
    /// <summary>What the value is, in a user's words.</summary>
    public string Description => Value switch
    {
        string s => $"the text \"{s}\"",
        double d => InvariantText.Of($"the number {d}"),
        bool b => b ? "true" : "false",
        TomlDateTime => "a date",
        List<TomlNode> => "a list",
        Dictionary<string, TomlNode> => "a table",
        _ => "an unknown value",
    };

    /// <summary>Reads a whole document.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its text.</param>
    /// <exception cref="InputException">The text is not TOML.</exception>
    public static TomlNode Parse(string file, string text)
    {
        try
        {
            var parser = TomlParser.Create(text);
            while (parser.MoveNext())
            {
                if (parser.Current.Kind == TomlParseEventKind.StartTable)
                {
                    return Table(parser, 1, new Dictionary<string, TomlNode>(StringComparer.Ordinal));
                }
            }

            return new TomlNode(1, new Dictionary<string, TomlNode>(StringComparer.Ordinal));
        }
        catch (TomlException e)
        {
            // The library's message begins with (line,column): its place is taken from there, its words after that.
            var place = System.Text.RegularExpressions.Regex.Match(e.Message, @"\((\d+),\d+\)\s*:\s*(?:error\s*:?\s*)?(?<words>[^\r\n]*)");
            string line = place.Success ? place.Groups[1].Value : InvariantText.Of($"{e.Line ?? 1}");
            string found = (place.Success ? place.Groups["words"].Value : e.Message.ReplaceLineEndings(" ")).Trim().TrimEnd('.');
            throw new InputException(InputProblem.Unusable, $"{file}, line {line}: this is not valid TOML ({found}); correct the syntax "
                + $"there",
                e);
        }
    }

    private static TomlNode Table(TomlParser parser, int line, Dictionary<string, TomlNode> table)
    {
        while (parser.MoveNext() && parser.Current.Kind != TomlParseEventKind.EndTable)
        {
            string key = parser.GetPropertyName();
            int keyLine = LineOf(parser, line);
            parser.MoveNext();
            if (!table.TryGetValue(key, out var known))
            {
                table.Add(key, Read(parser, keyLine));
            }
            else if (parser.Current.Kind == TomlParseEventKind.StartTable && known.Value is Dictionary<string, TomlNode> reopened)
            {
                Table(parser, known.Line, reopened);
            }
            else if (parser.Current is { Kind: TomlParseEventKind.StartArray, Span: null } && known.Value is List<TomlNode> headed)
            {
                // A [[header]] that comes back after another table goes on with its list.
                headed.AddRange((List<TomlNode>)List(parser, keyLine).Value);
            }
            else
            {
                throw new TomlException(
                    InvariantText.Of($"({keyLine},1) : error : the key \"{key}\" stands twice, first in line {known.Line}"));
            }
        }

        return new TomlNode(line, table);
    }

    private static TomlNode Read(TomlParser parser, int line) => parser.Current.Kind switch
    {
        TomlParseEventKind.StartTable => Table(parser, line, new Dictionary<string, TomlNode>(StringComparer.Ordinal)),
        TomlParseEventKind.StartArray => List(parser, line),
        TomlParseEventKind.String => new TomlNode(line, parser.GetString()),
        TomlParseEventKind.Integer => new TomlNode(line, (double)parser.Current.GetInt64()),
        TomlParseEventKind.Float => new TomlNode(line, Meant(parser.Current.GetDouble(), line)),
        TomlParseEventKind.Boolean => new TomlNode(line, parser.Current.GetBoolean()),
        TomlParseEventKind.DateTime => new TomlNode(line, parser.Current.GetTomlDateTime()),
        _ => throw new TomlException($"unexpected {parser.Current.Kind}"),
    };

    private static double Meant(double number, int line) => double.IsFinite(number) && !NumberLimits.CanBeMeant(number)
        ? throw new TomlException(InvariantText.Of($"({line},1) : error : the number {number} is greater than any that can be meant"))
        : NumberLimits.Meant(number);

    private static TomlNode List(TomlParser parser, int line)
    {
        var items = new List<TomlNode>();
        while (parser.MoveNext() && parser.Current.Kind != TomlParseEventKind.EndArray)
        {
            bool placeless = parser.Current.Span is null;
            var item = Read(parser, LineOf(parser, line));

            // The parser gives a [[header]] no place of its own: its first key is the nearest line that is known.
            items.Add(placeless && item.Value is Dictionary<string, TomlNode> { Count: > 0 } table
                ? item with { Line = table.Values.Min(n => n.Line) }
                : item);
        }

        return new TomlNode(line, items);
    }

    private static int LineOf(TomlParser parser, int otherwise) => parser.Current.Span is { } span ? span.Start.Line + 1 : otherwise;
}
