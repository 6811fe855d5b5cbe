using System.Text.Json;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Formats;

/// <summary>What a metadata file beside a log says about it.</summary>
/// <remarks>*Source:* W3C, Metadata Vocabulary for Tabular Data, 4.3 (locating), 5.6 (columns), 5.9 (dialects); W3C, Model for Tabular
/// Data, 6.4.2 (number formats), 6.4.4 (date formats). Units are not part of that model; a common property whose name ends in "unit" or
/// "unitCode" is read as one.</remarks>
/// <param name="File">Name of the metadata file.</param>
/// <param name="Separator">Character between fields; null where not stated.</param>
/// <param name="Header">Whether the log has a header.</param>
/// <param name="Titles">Titles of the columns, else their names; empty where not stated.</param>
/// <param name="Units">Units of the columns, as many; empty texts where not stated.</param>
internal sealed record CsvwMetadata(string File, char? Separator, bool Header, IReadOnlyList<string> Titles, IReadOnlyList<string> Units)
{
    /// <summary>Lines above the header that are not part of the table.</summary>
    public long SkipRows { get; init; }

    /// <summary>How numbers are written; null where not stated.</summary>
    public NumberStyle? Numbers { get; init; }

    /// <summary>Whether dates begin with the day or the month; null where not stated, or where they begin with the year.</summary>
    public DateOrder? Dates { get; init; }

    /// <summary>What the metadata state and the reader does not follow.</summary>
    public IReadOnlyList<string> NotUsed { get; init; } = [];

    private const long LargestBytes = 1 << 20;
    private const long MostRows = 1_000_000;

    /// <summary>Finds the metadata of a log: FILE-metadata.json, else csv-metadata.json in its folder.</summary>
    /// <returns>Null where there is none, or where it is about another file.</returns>
    public static CsvwMetadata? Find(string path)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(path)) ?? "";
        foreach (string candidate in new[] { path + "-metadata.json", Path.Combine(folder, "csv-metadata.json") })
        {
            if (path != "-" && System.IO.File.Exists(candidate) && new FileInfo(candidate).Length <= LargestBytes)
            {
                return Read(candidate, Path.GetFileName(path));
            }
        }

        return null;
    }

    private static CsvwMetadata? Read(string file, string log)
    {
        try
        {
            using var document = JsonDocument.Parse(System.IO.File.ReadAllBytes(file));
            JsonElement root = document.RootElement;
            JsonElement? table = root.TryGetProperty("tables", out JsonElement tables)
                ? tables.EnumerateArray().Select(t => (JsonElement?)t).FirstOrDefault(t => IsAbout(t!.Value, log))
                : IsAbout(root, log) ? root : null;
            return table is JsonElement found ? Of(file, root, found) : null;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or IOException or UnauthorizedAccessException)
        {
            throw LogErrors.WrongMetadata(file, e);
        }
    }

    private static bool IsAbout(JsonElement table, string log) =>
        table.TryGetProperty("url", out JsonElement url) && Uri.UnescapeDataString((url.GetString() ?? "").Split('/')[^1]) == log;

    private static CsvwMetadata Of(string file, JsonElement root, JsonElement table)
    {
        JsonElement dialect = table.TryGetProperty("dialect", out JsonElement own) || root.TryGetProperty("dialect", out own)
            ? own
            : default;
        JsonElement[] columns = table.TryGetProperty("tableSchema", out JsonElement schema)
            && schema.TryGetProperty("columns", out JsonElement list) ? [.. list.EnumerateArray()] : [];
        JsonElement[] formats = [.. columns.Select(c => Property(Property(c, "datatype"), "format"))
            .Where(f => f.ValueKind != JsonValueKind.Undefined)];
        bool header = Property(dialect, "headerRowCount") is { ValueKind: JsonValueKind.Number } count
            ? Whole(file, "headerRowCount", count) > 0
            : Property(dialect, "header") is not { ValueKind: JsonValueKind.False };
        return new CsvwMetadata(file, Character(dialect, "delimiter"), header, [.. columns.Select(Title)], [.. columns.Select(Unit)])
        {
            SkipRows = Property(dialect, "skipRows") is { ValueKind: JsonValueKind.Number } rows ? Whole(file, "skipRows", rows) : 0,
            Numbers = formats.Select(NumbersOf).FirstOrDefault(n => n is not null),
            Dates = formats.Select(DatesOf).FirstOrDefault(d => d is not null),
            NotUsed = [.. NotUsedOf(file, dialect)],
        };
    }

    private static long Whole(string file, string key, JsonElement number) => number.TryGetInt64(out long whole)
        && whole is >= 0 and <= MostRows
        ? whole
        : throw LogErrors.WrongMetadata(file,
            new FormatException(InvariantText.Of($"{key} is {number.GetRawText()}, and a whole number from 0 to {MostRows} was expected")));

    private static JsonElement Property(JsonElement of, string name) => of.ValueKind == JsonValueKind.Object
        && of.TryGetProperty(name, out JsonElement found) ? found : default;

    private static char? Character(JsonElement of, string name) =>
        Property(of, name) is { ValueKind: JsonValueKind.String } text && text.GetString() is [char c] ? c : null;

    private static NumberStyle? NumbersOf(JsonElement format)
    {
        char? point = Character(format, "decimalChar");
        char? group = Character(format, "groupChar");
        return (point, group) is (null, null) || point is > '\u007F'
            ? null
            : new NumberStyle((byte)(point ?? '.'), (byte)(group is null ? 0 : group is > '\u007F' ? ' ' : group.Value));
    }

    // dd/MM/yyyy and the like: in these patterns M is the month and m the minute.
    private static DateOrder? DatesOf(JsonElement format)
    {
        string pattern = format.ValueKind == JsonValueKind.String ? format.GetString()! : "";
        int day = pattern.IndexOf('d', StringComparison.Ordinal);
        int month = pattern.IndexOf('M', StringComparison.Ordinal);
        int year = pattern.IndexOf('y', StringComparison.Ordinal);
        return day < 0 || month < 0 || year < day ? null : day < month ? DateOrder.DayFirst : DateOrder.MonthFirst;
    }

    private static IEnumerable<string> NotUsedOf(string file, JsonElement dialect)
    {
        if (Property(dialect, "quoteChar") is { ValueKind: JsonValueKind.String } quote && quote.GetString() != "\"")
        {
            yield return $"{file} names {LogErrors.Quote(quote.GetString()!)} as the quotation mark; only \" is known as one.";
        }

        if (Property(dialect, "commentPrefix") is { ValueKind: JsonValueKind.String } prefix
            && prefix.GetString() is not ("#" or "%" or "//" or ";" or ""))
        {
            yield return $"{file} says that comments begin with {LogErrors.Quote(prefix.GetString()!)}; only #, %, // and ; are known to "
                + "begin one.";
        }
    }

    private static string Title(JsonElement column)
    {
        if (column.TryGetProperty("titles", out JsonElement titles))
        {
            JsonElement one = titles.ValueKind switch
            {
                JsonValueKind.Array => titles.EnumerateArray().FirstOrDefault(),
                JsonValueKind.Object => titles.EnumerateObject().Select(p => p.Value).FirstOrDefault(),
                _ => titles,
            };
            one = one.ValueKind == JsonValueKind.Array ? one.EnumerateArray().FirstOrDefault() : one;
            if (one.ValueKind == JsonValueKind.String)
            {
                return one.GetString()!;
            }
        }

        return column.TryGetProperty("name", out JsonElement name) ? name.GetString() ?? "" : "";
    }

    private static string Unit(JsonElement column) => column.EnumerateObject()
        .Where(p => p.Value.ValueKind == JsonValueKind.String
            && (p.Name.EndsWith("unit", StringComparison.OrdinalIgnoreCase)
            || p.Name.EndsWith("unitCode", StringComparison.OrdinalIgnoreCase)))
        .Select(p => p.Value.GetString()!)
        .FirstOrDefault("");
}
