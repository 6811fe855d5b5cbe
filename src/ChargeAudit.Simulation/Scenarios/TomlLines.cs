using System.Globalization;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>On which line of a TOML text a key stands, by its path such as <c>runs[2].method</c>.</summary>
internal sealed class TomlLines
{
    private readonly Dictionary<string, int> _lines = new(StringComparer.Ordinal);

    public TomlLines(string toml, string name)
    {
        DocumentSyntax document = SyntaxParser.Parse(toml, name, true);
        Add("", document.KeyValues);
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (TableSyntaxBase table in document.Tables)
        {
            string path = Words(table.Name);
            if (table is TableArraySyntax)
            {
                int index = counts.GetValueOrDefault(path);
                counts[path] = index + 1;
                path = Indexed(path, index);
            }
            else if (path.IndexOf('.', StringComparison.Ordinal) is > 0 and var dot && counts.TryGetValue(path[..dot], out int parents))
            {
                path = Indexed(path[..dot], parents - 1) + path[dot..];
            }

            _lines[path] = table.Span.Start.Line + 1;
            Add(path + ".", table.Items);
        }
    }

    /// <summary>Line of the key, or of the nearest table that holds it; 0 where none is known.</summary>
    public int Of(string path)
    {
        while (path.Length > 0)
        {
            if (_lines.TryGetValue(path, out int line))
            {
                return line;
            }

            int cut = Math.Max(path.LastIndexOf('.'), path.LastIndexOf('['));
            path = cut < 0 ? "" : path[..cut];
        }

        return 0;
    }

    private static string Indexed(string path, int index) => path + "[" + index.ToString(CultureInfo.InvariantCulture) + "]";

    private static string Words(KeySyntax? key) => (key?.ToString() ?? "").Trim().Trim('"');

    private void Add(string prefix, IEnumerable<KeyValueSyntax> pairs)
    {
        foreach (KeyValueSyntax pair in pairs)
        {
            _lines[prefix + Words(pair.Key)] = pair.Span.Start.Line + 1;
        }
    }
}
