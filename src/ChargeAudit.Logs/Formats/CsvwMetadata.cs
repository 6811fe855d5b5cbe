using System.Text.Json;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Logs.Formats;

/// <summary>What a metadata file beside a log says of it.</summary>
/// <remarks>*Source:* W3C, Metadata Vocabulary for Tabular Data, 4.3 (locating), 5.6 (columns), 5.9 (dialects). Units are no part of that model; a common property whose name ends in "unit" or "unitCode" is read as one.</remarks>
/// <param name="File">Name of the metadata file.</param>
/// <param name="Separator">Character between fields; null where not said.</param>
/// <param name="Header">Whether the log has a header.</param>
/// <param name="Titles">Titles of the columns, else their names; empty where not said.</param>
/// <param name="Units">Units of the columns, as many; empty texts where not said.</param>
internal sealed record CsvwMetadata(string File, char? Separator, bool Header, IReadOnlyList<string> Titles, IReadOnlyList<string> Units)
{
    private const long LargestBytes = 1 << 20;

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
        JsonElement dialect = table.TryGetProperty("dialect", out JsonElement own) || root.TryGetProperty("dialect", out own) ? own : default;
        bool header = dialect.ValueKind != JsonValueKind.Object || !dialect.TryGetProperty("header", out JsonElement says) || says.GetBoolean();
        char? separator = dialect.ValueKind == JsonValueKind.Object && dialect.TryGetProperty("delimiter", out JsonElement delimiter) && delimiter.GetString() is [char c] ? c : null;
        JsonElement[] columns = table.TryGetProperty("tableSchema", out JsonElement schema) && schema.TryGetProperty("columns", out JsonElement list) ? [.. list.EnumerateArray()] : [];
        return new CsvwMetadata(file, separator, header, [.. columns.Select(Title)], [.. columns.Select(Unit)]);
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
        .Where(p => p.Value.ValueKind == JsonValueKind.String && (p.Name.EndsWith("unit", StringComparison.OrdinalIgnoreCase) || p.Name.EndsWith("unitCode", StringComparison.OrdinalIgnoreCase)))
        .Select(p => p.Value.GetString()!)
        .FirstOrDefault("");
}
