using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>A list of audits that belong together, with what their results do not say themselves. Immutable.</summary>
public sealed record PoolList
{
    /// <summary>Title for people.</summary>
    public required string Title { get; init; }

    /// <summary>The measuring point; null: not said.</summary>
    public string? Point { get; init; }

    /// <summary>The audits.</summary>
    public required IReadOnlyList<ListedAudit> Audits { get; init; }

    /// <summary>The one use that all years are worked out for; null: not said.</summary>
    public Use? Use { get; init; }

    /// <summary>The one tariff; null: no cost.</summary>
    public Tariff? Tariff { get; init; }

    /// <summary>Reads a list from disk; paths in it start from its folder.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is missing, is not TOML, or says something that no list can say.</exception>
    public static PoolList Load(string path)
    {
        try
        {
            return Read(path, File.ReadAllText(path), Path.GetDirectoryName(Path.GetFullPath(path))!);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing, $"{path} cannot be read: {e.Message.TrimEnd('.')}; check the path of the list",
                e);
        }
    }

    /// <summary>Reads a list from text.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its text.</param>
    /// <param name="folder">Folder that paths start from.</param>
    /// <exception cref="InputException">The text is not TOML, or says something that no list can say.</exception>
    public static PoolList Read(string file, string text, string folder)
    {
        var document = new TomlTableReader(file, "", TomlNode.Parse(file, text), "the list");
        string? point = document.Text("point");
        if (point is not null && StudyWords.Point(point) is null)
        {
            throw document.Refuse(document.LineOf("point"),
                $"point is \"{point}\"; it must be one of {string.Join(", ", StudyWords.Points)}");
        }

        var list = new PoolList
        {
            Title = document.Text("title") ?? Path.GetFileNameWithoutExtension(file),
            Point = point,
            Audits = [.. document.ListOfTables("audits").Select(t => Audit(t, folder))],
            Use = document.Table("use") is { } use ? UseReader.Use(use) : null,
            Tariff = document.Table("tariff") is { } tariff ? UseReader.Tariff(tariff) : null,
        };
        document.Finish();
        return list.Audits.Count > 0
            ? list
            : throw document.Refuse(1, "the list names no audit; add [[audits]] with results = \"report/results.json\"");
    }

    private static ListedAudit Audit(TomlTableReader table, string folder)
    {
        string results = table.RequiredText("results", "\"report/results.json\"");
        var audit = new ListedAudit(Path.Combine(folder, results))
        {
            Name = results,
            Device = table.Text("device"),
            Chargers = Texts(table.Table("chargers")),
            Instruments = Texts(table.Table("instruments")),
            Factors = table.Table("factors") is { } factors ? Factors(factors) : new Dictionary<string, object>(),
        };
        table.Finish();
        return audit;
    }

    private static Dictionary<string, string> Texts(TomlTableReader? table) =>
        table?.Keys.ToDictionary(k => k, k => table.RequiredText(k, "\"…\""), StringComparer.Ordinal) ?? [];

    private static Dictionary<string, object> Factors(TomlTableReader table) =>
        table.Keys.ToDictionary(k => k, k => table.TryGet(k, out var node) ? node.Value switch
        {
            double number when double.IsFinite(number) => number,
            string text => (object)text,
            bool flag => flag ? "yes" : "no",
            _ => throw table.Wrong(k, "a number, a text in quotes, or true or false"),
        } : "", StringComparer.Ordinal);
}

/// <summary>An audit of a list.</summary>
/// <param name="Results">Path of its results.json, or of a folder with one.</param>
public sealed record ListedAudit(string Results)
{
    /// <summary>The path as it was written.</summary>
    public string Name { get; init; } = Results;

    /// <summary>Name of the device; null: as the results say.</summary>
    public string? Device { get; init; }

    /// <summary>Name of the charger by method; a method's own name where absent.</summary>
    public IReadOnlyDictionary<string, string> Chargers { get; init; } = new Dictionary<string, string>();

    /// <summary>Which instrument a meter's name stands for; one key is one and the same instrument in every audit.</summary>
    public IReadOnlyDictionary<string, string> Instruments { get; init; } = new Dictionary<string, string>();

    /// <summary>What may explain differences: a number or a text by name.</summary>
    public IReadOnlyDictionary<string, object> Factors { get; init; } = new Dictionary<string, object>();
}
