using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using Tomlyn;

namespace ChargeAudit.Studies.Toml;

/// <summary>
/// Takes the keys of one table out one by one, each with the kind it must have. Whatever has not been asked for when
/// <see cref="Finish"/> is called is a mistake of the user's, and is refused with the nearest known key.
/// </summary>
internal sealed class TomlTableReader
{
    private readonly string _file;
    private readonly Dictionary<string, TomlNode> _table;
    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);
    private readonly string _whole;

    /// <summary>Reads a table.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="path">Dotted path of the table; empty for the document.</param>
    /// <param name="node">The table.</param>
    /// <param name="whole">What messages call the document.</param>
    public TomlTableReader(string file, string path, TomlNode node, string whole = "the study")
    {
        _file = file;
        _whole = whole;
        Path = path;
        Line = node.Line;
        _table = node.Value as Dictionary<string, TomlNode> ?? throw Wrong(node, path, "a table");
    }

    /// <summary>Line number of the table.</summary>
    public int Line { get; }

    /// <summary>Dotted path of the table; empty for the document.</summary>
    public string Path { get; }

    /// <summary>Keys that the user gave.</summary>
    public IReadOnlyCollection<string> Keys => _table.Keys;

    public bool Has(string key) => _table.ContainsKey(key);

    public int LineOf(string key) => _table.TryGetValue(key, out var node) ? node.Line : Line;

    public bool TryGet(string key, [NotNullWhen(true)] out TomlNode? node)
    {
        _asked.Add(key);
        return _table.TryGetValue(key, out node);
    }

    public string? Text(string key) => TryGet(key, out var node) ? node.Value as string
        ?? throw Wrong(node, key, "a text in quotes") : null;

    public string RequiredText(string key, string example) =>
        Text(key) ?? throw Refuse(Line, $"{Where} has no \"{key}\"; add it, for example {key} = {example}");

    public double? Number(string key, double least = double.NegativeInfinity, double greatest = double.PositiveInfinity)
    {
        if (!TryGet(key, out var node))
        {
            return null;
        }

        if (node.Value is not double number || !double.IsFinite(number))
        {
            throw Wrong(node, key, "a number");
        }

        return number >= least && number <= greatest
            ? number
            : throw Refuse(node.Line, InvariantText.Of($"{PathOf(key)} is {number}; it must lie between {least} and {greatest}"));
    }

    public bool? Flag(string key) => TryGet(key, out var node) ? node.Value as bool? ?? throw Wrong(node, key, "true or false") : null;

    public TomlTableReader? Table(string key) => TryGet(key, out var node) ? new TomlTableReader(_file, PathOf(key), node) : null;

    /// <summary>The tables inside this one, such as all meters.</summary>
    public IEnumerable<(string Name, TomlTableReader Table)> Tables()
    {
        foreach (var (name, node) in _table)
        {
            _asked.Add(name);
            RequirePlain(node, name);
            yield return (name, new TomlTableReader(_file, PathOf(name), node));
        }
    }

    /// <summary>The tables of a <c>[[list]]</c>; none where the key is absent.</summary>
    public IEnumerable<TomlTableReader> ListOfTables(string key)
    {
        if (!TryGet(key, out var node))
        {
            return [];
        }

        var items = node.Value as List<TomlNode> ?? throw Wrong(node, key, $"a list of tables, each headed [[{PathOf(key)}]]");
        return items.Select((item, i) => new TomlTableReader(_file, InvariantText.Of($"{PathOf(key)}[{i + 1}]"), item));
    }

    /// <summary>A text, or a list of texts.</summary>
    public IReadOnlyList<string> Texts(string key)
    {
        if (!TryGet(key, out var node))
        {
            return [];
        }

        return node.Value switch
        {
            string one => [one],
            List<TomlNode> { Count: > 0 } many =>
                [.. many.Select(n => n.Value as string ?? throw Wrong(n, key, "a list of texts in quotes"))],
            _ => throw Wrong(node, key, "a text in quotes, or a list of them"),
        };
    }

    /// <summary>A list of numbers; empty where the key is absent.</summary>
    public IReadOnlyList<double> Numbers(string key)
    {
        if (!TryGet(key, out var node))
        {
            return [];
        }

        return node.Value is List<TomlNode> { Count: > 0 } many
            ? [.. many.Select(n => n.Value as double? ?? throw Wrong(n, key, "a list of numbers"))]
            : throw Wrong(node, key, "a list of numbers");
    }

    /// <summary>A time: a TOML date and time, a text with one, or seconds from the log's start.</summary>
    public LogTime? Time(string key)
    {
        if (!TryGet(key, out var node))
        {
            return null;
        }

        const DateTimeStyles styles = DateTimeStyles.AssumeUniversal | DateTimeStyles.AllowWhiteSpaces;
        switch (node.Value)
        {
            case double seconds when double.IsFinite(seconds) && seconds >= 0:
                return new LogTime(null, seconds, false);
            case TomlDateTime { Kind: TomlDateTimeKind.OffsetDateTimeByZ or TomlDateTimeKind.OffsetDateTimeByNumber } stamped:
                return new LogTime(stamped.DateTime, null, true);
            case TomlDateTime { Kind: TomlDateTimeKind.LocalDateTime } local:
                return new LogTime(new DateTimeOffset(local.DateTime.DateTime, TimeSpan.Zero), null, false);
            case string text when DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, styles, out var parsed):
                bool offset = text.EndsWith('Z') || (text.Length > 6 && text[^6] is '+' or '-' && text[^3] == ':');
                return new LogTime(parsed, null, offset);
            default:
                throw Wrong(node, key, "a date and time such as 2026-03-01T21:30:00, or seconds from the log's first row");
        }
    }

    /// <summary>One of a few words.</summary>
    public T? Choice<T>(string key, params (string Word, T Value)[] choices)
        where T : struct
    {
        if (Text(key) is not { } word)
        {
            return null;
        }

        foreach (var (known, value) in choices)
        {
            if (known == word)
            {
                return value;
            }
        }

        throw Refuse(LineOf(key), $"{PathOf(key)} is \"{word}\"; it must be one of {string.Join(", ", choices.Select(c => c.Word))}");
    }

    /// <summary>Refuses keys that nobody asked for.</summary>
    public void Finish()
    {
        foreach (var (key, node) in _table)
        {
            if (!_asked.Contains(key))
            {
                string known = NearestWord.Of(key, _asked) is { } nearest
                    ? $"did you mean \"{nearest}\"?"
                    : $"known here are {string.Join(", ", _asked.Order(StringComparer.Ordinal))}";
                throw Refuse(node.Line, $"{Where} has an unknown key \"{key}\"; {known}");
            }
        }
    }

    /// <summary>A refusal of this file.</summary>
    public InputException Refuse(int line, string sentence) =>
        new(InputProblem.Unusable, InvariantText.Of($"{_file}, line {line}: {sentence}"));

    /// <summary>A refusal of what stands at a key of this table.</summary>
    public InputException Wrong(string key, string expected) => Wrong(_table[key], key, expected);

    public string PathOf(string key) => Path.Length == 0 ? key : $"{Path}.{key}";

    private string Where => Path.Length == 0 ? _whole : $"[{Path}]";

    private InputException Wrong(TomlNode node, string key, string expected) =>
        Refuse(node.Line, $"{(key == Path ? key : PathOf(key))} is {node.Description}; {expected} was expected");

    // Names of tables become names of charts, groups and columns, and no such name needs a newline or an escape. Names of files are what
    // they are, and shown safely.
    private void RequirePlain(TomlNode node, string name)
    {
        if (!VisibleText.IsPlain(name))
        {
            throw Refuse(node.Line, $"the name {PathOf(name)} holds a character that cannot be shown; remove it");
        }
    }
}
