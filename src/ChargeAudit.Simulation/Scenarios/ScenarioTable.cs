using System.Globalization;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Units;
using ChargeAudit.Studies.Toml;
using Tomlyn;
using Tomlyn.Model;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A table of a scenario file that remembers which keys were asked for, so that what nobody asked for is an error and not silently lost.</summary>
internal sealed class ScenarioTable
{
    private readonly TomlTable _table;
    private readonly string _path;
    private readonly string _file;
    private readonly TomlLines _lines;
    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);

    private ScenarioTable(TomlTable table, string path, string file, TomlLines lines) => (_table, _path, _file, _lines) = (table, path, file, lines);

    /// <summary>The whole file.</summary>
    public static ScenarioTable Root(string toml, string file)
    {
        try
        {
            return new ScenarioTable(TomlSerializer.Deserialize(toml, ScenarioToml.Default.TomlTable) ?? [], "", file, new TomlLines(toml, file));
        }
        catch (TomlException e)
        {
            throw new InputException(InputProblem.Unusable, string.Create(CultureInfo.InvariantCulture, $"{file}, line {e.Line}: this is not TOML ({e.Message.Split('\n')[0].Trim()}); mend that line."), e);
        }
    }

    public bool Has(string key)
    {
        _asked.Add(key);
        return _table.ContainsKey(key);
    }

    public string Text(string key) => TextOr(key, null) ?? throw Missing(key, "text in quotes");

    public string? TextOr(string key, string? otherwise) => Find(key) switch
    {
        null => otherwise,
        string text => text,
        var other => throw Wrong(key, other, "text in quotes"),
    };

    public bool FlagOr(string key, bool otherwise) => Find(key) switch
    {
        null => otherwise,
        bool flag => flag,
        var other => throw Wrong(key, other, "true or false"),
    };

    /// <summary>A value with its unit in text; a plain number stands for percent (<c>%</c> as unit) or for a pure number (<c>1</c>) only.</summary>
    public double Value(string key, string unit) => Find(key) is { } found ? Read(key, found, unit) : throw Missing(key, Example(unit));

    public double ValueOr(string key, string unit, double otherwise) => Find(key) is { } found ? Read(key, found, unit) : otherwise;

    /// <summary>A value that must not be below zero.</summary>
    public double SizeOr(string key, string unit, double otherwise) => NotNegative(key, ValueOr(key, unit, otherwise));

    public double Size(string key, string unit) => NotNegative(key, Value(key, unit));

    /// <summary>A value that must be above zero.</summary>
    public double Positive(string key, string unit)
    {
        double value = Value(key, unit);
        return value > 0 ? value : throw Wrong(key, _table[key], "a value above zero, " + Example(unit));
    }

    /// <summary>A whole number from 1 to a thousand.</summary>
    public int CountOr(string key, int otherwise) => Find(key) switch
    {
        null => otherwise,
        long and >= 1 and <= 1000 and var count => (int)(long)count,
        var other => throw Wrong(key, other, "a whole number from 1 to 1000"),
    };

    /// <summary>A share from 0 to 100 %.</summary>
    public double ShareOr(string key, double otherwise)
    {
        double share = SizeOr(key, "%", otherwise);
        return share <= 1 ? share : throw Wrong(key, _table[key], "a share from 0 to 100 %");
    }

    public ScenarioTable? TableOr(string key) => Find(key) switch
    {
        null => null,
        TomlTable table => Child(table, Join(key)),
        var other => throw Wrong(key, other, "a table"),
    };

    public ScenarioTable Table(string key) => TableOr(key) ?? throw Missing(key, "a table");

    /// <summary>Tables by name under one key, in the file's order.</summary>
    public IReadOnlyList<(string Name, ScenarioTable Table)> Named(string key)
    {
        if (TableOr(key) is not { } parent)
        {
            return [];
        }

        return [.. parent._table.Keys.Select(name => (name, parent.Table(name)))];
    }

    /// <summary>A list of tables.</summary>
    public IReadOnlyList<ScenarioTable> List(string key)
    {
        IEnumerable<object?> items = Find(key) switch
        {
            null => [],
            TomlTableArray tables => tables,
            TomlArray array => array,
            var other => throw Wrong(key, other, "a list of tables"),
        };
        return [.. items.Select((item, i) => item is TomlTable table
            ? Child(table, Join(key) + "[" + i.ToString(CultureInfo.InvariantCulture) + "]")
            : throw Wrong(key, item, "a list of tables"))];
    }

    public IReadOnlyList<string> Texts(string key) => Find(key) switch
    {
        null => [],
        TomlArray array when array.All(item => item is string) => [.. array.Cast<string>()],
        var other => throw Wrong(key, other, "a list of texts in quotes"),
    };

    /// <summary>A list of pairs of numbers.</summary>
    public IReadOnlyList<(double First, double Second)> Pairs(string key) => Find(key) switch
    {
        null => [],
        TomlArray array => [.. array.Select(item => item is TomlArray { Count: 2 } pair && Plain(pair[0]) is { } first && Plain(pair[1]) is { } second
            ? (first, second)
            : throw Wrong(key, item, "pairs of numbers such as [50, 3.87]"))],
        var other => throw Wrong(key, other, "a list of pairs of numbers such as [50, 3.87]"),
    };

    /// <summary>One of several words.</summary>
    public T Choice<T>(string key, T? otherwise, params (string Word, T Meaning)[] words)
        where T : struct
    {
        if (Find(key) is not { } found)
        {
            return otherwise ?? throw Missing(key, OneOf(words.Select(w => w.Word)));
        }

        foreach ((string word, T meaning) in words)
        {
            if (found is string text && text == word)
            {
                return meaning;
            }
        }

        throw Wrong(key, found, OneOf(words.Select(w => w.Word)));
    }

    /// <summary>The item of that name, or a sentence that lists those there are.</summary>
    public T Pick<T>(string key, IReadOnlyList<T> items, Func<T, string> name)
    {
        string wanted = Text(key);
        foreach (T item in items)
        {
            if (name(item) == wanted)
            {
                return item;
            }
        }

        throw Wrong(key, wanted, OneOf(items.Select(name)));
    }

    /// <summary>Ends the reading of this table: a key that was never asked for is an error.</summary>
    public void End()
    {
        foreach (string key in _table.Keys.Where(k => !_asked.Contains(k)))
        {
            string nearest = _asked.OrderBy(a => TomlTableReader.EditDistance(a, key)).ThenBy(a => a, StringComparer.Ordinal).FirstOrDefault() ?? "";
            throw new InputException(InputProblem.Unusable, $"{Where(key)}: the key '{key}' is not known here; did you mean '{nearest}'? Correct it or take it out.");
        }
    }

    public InputException Problem(string key, string sentence) => new(InputProblem.Unusable, $"{Where(key)}: {sentence}");

    private static string OneOf(IEnumerable<string> words) => "one of " + string.Join(", ", words.Select(w => "'" + w + "'"));

    private static string Example(string unit) => unit switch
    {
        "%" => "a share such as 5 or \"5 %\"",
        "1" => "a plain number or a share such as \"5 %\"",
        _ => $"a value with its unit in quotes, such as \"1.5 {unit}\"",
    };

    private static double? Plain(object? item) => item switch
    {
        long whole => whole,
        double number => number,
        _ => null,
    };

    private double Read(string key, object found, string unit)
    {
        string wanted = unit == "%" ? "1" : unit;
        double value = found switch
        {
            string text when ValueText.TryParse(text, wanted, out double parsed) => parsed,
            long or double when unit == "%" => Plain(found)!.Value / 100,
            long or double when unit == "1" => Plain(found)!.Value,
            _ => double.NaN,
        };
        return double.IsFinite(value) ? value : throw Wrong(key, found, Example(unit));
    }

    private double NotNegative(string key, double value) => value >= 0 ? value : throw Wrong(key, _table[key], "a value not below zero");

    private object? Find(string key)
    {
        _asked.Add(key);
        return _table.TryGetValue(key, out object? value) ? value : null;
    }

    private ScenarioTable Child(TomlTable table, string path) => new(table, path, _file, _lines);

    private string Join(string key) => _path.Length == 0 ? key : _path + "." + key;

    private string Where(string key)
    {
        int line = _lines.Of(Join(key));
        string place = _path.Length == 0 ? "" : $" in [{_path}]";
        return line > 0 ? string.Create(CultureInfo.InvariantCulture, $"{_file}, line {line}{place}") : _file + place;
    }

    private InputException Missing(string key, string expected) =>
        new(InputProblem.Unusable, $"{Where(key)}: the key '{key}' is missing; give {expected}.");

    private InputException Wrong(string key, object? found, string expected) =>
        new(InputProblem.Unusable, $"{Where(key)}: '{key}' is {Shown(found)}, expected {expected}.");

    private static string Shown(object? found) => found switch
    {
        string text => "'" + (text.Length > 40 ? text[..40] + "…" : text) + "'",
        bool flag => flag ? "true" : "false",
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => "something else",
    };
}
