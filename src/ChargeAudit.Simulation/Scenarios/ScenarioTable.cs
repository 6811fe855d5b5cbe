using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Units;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A table of a scenario file: read as a study's tables are, with values that carry units besides.</summary>
internal sealed class ScenarioTable
{
    private const double LongestS = 7 * 86_400;

    /// <summary>A clock that runs faster or slower than by this is no clock. [1]</summary>
    private const double MostDrift = 0.1;

    private readonly TomlTableReader _table;

    private ScenarioTable(TomlTableReader table) => _table = table;

    /// <summary>The whole file.</summary>
    public static ScenarioTable Root(string toml, string file) =>
        new(new TomlTableReader(file, "", TomlNode.Parse(file, toml), "the scenario"));

    public bool Has(string key) => _table.TryGet(key, out _);

    public string Text(string key) => _table.Text(key) ?? throw Missing(key, "text in quotes");

    public string? TextOr(string key, string? otherwise) => _table.Text(key) ?? otherwise;

    public bool FlagOr(string key, bool otherwise) => _table.Flag(key) ?? otherwise;

    /// <summary>A value with its unit in text; a plain number stands for percent (<c>%</c> as unit) or for a pure number (<c>1</c>)
    /// only.</summary>
    public double Value(string key, string unit) => Lasting(key, unit) ?? throw Missing(key, Example(unit));

    public double ValueOr(string key, string unit, double otherwise) => Lasting(key, unit) ?? otherwise;

    /// <summary>By how much a clock may run fast or slow. [1]</summary>
    public double DriftOr(string key, double otherwise)
    {
        double drift = ValueOr(key, "1", otherwise);
        return Math.Abs(drift) <= MostDrift ? drift : throw _table.Wrong(key, "a drift between -10 % and 10 %, such as \"20 ppm\"");
    }

    /// <summary>A value that must not be below zero.</summary>
    public double SizeOr(string key, string unit, double otherwise) => NotNegative(key, ValueOr(key, unit, otherwise));

    public double Size(string key, string unit) => NotNegative(key, Value(key, unit));

    /// <summary>A value that must be above zero.</summary>
    public double Positive(string key, string unit)
    {
        double value = Value(key, unit);
        return value > 0 ? value : throw _table.Wrong(key, "a value above zero, " + Example(unit));
    }

    /// <inheritdoc cref="Positive"/>
    public double PositiveOr(string key, string unit, double otherwise) => Has(key) ? Positive(key, unit) : otherwise;

    /// <summary>A whole number from 1 to a thousand.</summary>
    public int CountOr(string key, int otherwise) => !_table.TryGet(key, out var node) ? otherwise
        : node.Value is >= 1.0 and <= 1000.0 and double count && double.IsInteger(count)
            ? (int)count
            : throw _table.Wrong(key, "a whole number from 1 to 1000");

    // A simulated log has a row for each interval of its time.
    private double? Lasting(string key, string unit) => Found(key, unit) is not { } value ? null
        : unit != "s" || Math.Abs(value) <= LongestS ? value
        : throw _table.Wrong(key, "a time of 7 days at most, " + Example(unit));

    /// <summary>A share from 0 to 100 %.</summary>
    public double ShareOr(string key, double otherwise)
    {
        double share = SizeOr(key, "%", otherwise);
        return share <= 1 ? share : throw _table.Wrong(key, "a share from 0 to 100 %");
    }

    public ScenarioTable? TableOr(string key) => _table.Table(key) is { } table ? new ScenarioTable(table) : null;

    public ScenarioTable Table(string key) => TableOr(key) ?? throw Missing(key, "a table");

    /// <summary>Tables by name under one key, in the file's order.</summary>
    public IReadOnlyList<(string Name, ScenarioTable Table)> Named(string key) =>
        [.. (_table.Table(key)?.Tables() ?? []).Select(t => (t.Name, new ScenarioTable(t.Table)))];

    /// <summary>A list of tables.</summary>
    public IReadOnlyList<ScenarioTable> List(string key) => [.. _table.ListOfTables(key).Select(t => new ScenarioTable(t))];

    public IReadOnlyList<string> Texts(string key) => _table.Texts(key);

    /// <summary>A list of pairs of numbers.</summary>
    public IReadOnlyList<(double First, double Second)> Pairs(string key)
    {
        if (!_table.TryGet(key, out var node))
        {
            return [];
        }

        var pairs = (node.Value as List<TomlNode>)?.Select(n => n.Value is List<TomlNode> { Count: 2 } p && p[0].Value is double a
            && p[1].Value is double b ? (a, b) : ((double, double)?)null).ToList();
        return pairs is not null && pairs.TrueForAll(p => p is not null)
            ? [.. pairs.Select(p => p!.Value)]
            : throw _table.Wrong(key, "a list of pairs of numbers such as [50, 3.87]");
    }

    /// <summary>One of several words.</summary>
    public T Choice<T>(string key, T? otherwise, params (string Word, T Meaning)[] words)
        where T : struct => _table.Choice(key, words) ?? otherwise
            ?? throw Missing(key, "one of " + string.Join(", ", words.Select(w => w.Word)));

    /// <summary>The item of that name, or a sentence that lists those there are.</summary>
    public T Pick<T>(string key, IReadOnlyList<T> items, Func<T, string> name)
    {
        string wanted = Text(key);
        int at = items.ToList().FindIndex(item => name(item) == wanted);
        return at >= 0 ? items[at] : throw _table.Wrong(key, "one of " + string.Join(", ", items.Select(name)));
    }

    /// <summary>Ends the reading of this table: a key that was never asked for is an error.</summary>
    public void End() => _table.Finish();

    public InputException Problem(string key, string sentence) =>
        _table.Refuse(_table.LineOf(key), _table.Path.Length == 0 ? sentence : $"in [{_table.Path}], {sentence}");

    private static string Example(string unit) => unit switch
    {
        "%" => "a share such as 5 or \"5 %\"",
        "1" => "a plain number or a share such as \"5 %\"",
        _ => $"a value with its unit in quotes, such as \"1.5 {unit}\",",
    };

    private double? Found(string key, string unit)
    {
        if (!_table.TryGet(key, out var node))
        {
            return null;
        }

        double value = node.Value switch
        {
            string text when ValueText.TryParse(text, unit == "%" ? "1" : unit, out double parsed) => parsed,
            double number when unit == "%" => number / 100,
            double number when unit == "1" => number,
            _ => double.NaN,
        };
        return double.IsFinite(value) ? value : throw _table.Wrong(key, Example(unit));
    }

    private double NotNegative(string key, double value) => value >= 0 ? value : throw _table.Wrong(key, "a value not below zero");

    private InputException Missing(string key, string expected) =>
        Problem(key, $"the key '{key}' is missing; give {expected.TrimEnd(',')}");
}
