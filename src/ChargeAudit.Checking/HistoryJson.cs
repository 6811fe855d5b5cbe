using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using ChargeAudit.Checking.Documents;
using ChargeAudit.Metrology;

namespace ChargeAudit.Checking;

/// <summary>One line of a history: an entry after the name of its schema.</summary>
internal static class HistoryJson
{
    /// <summary>Name and version of a line.</summary>
    public const string Schema = SchemaNames.History;

    private const int MostRuns = 1_000_000;

    /// <summary>What every line starts with.</summary>
    public const string Start = "{\"schema\":\"" + Schema + "\"";

    private static readonly HistoryContext Context = new(new JsonSerializerOptions(HistoryContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    public static string Line(HistoryEntry entry) =>
        Start + "," + WrittenMarks.ExactJson(JsonSerializer.Serialize(entry, Context.HistoryEntry))[1..];

    public static bool TryRead(ReadOnlyMemory<byte> line, out HistoryEntry? entry)
    {
        entry = null;
        try
        {
            using var document = JsonDocument.Parse(line);
            if (!JsonNumbers.CanAllBeMeant(document.RootElement))
            {
                return false;
            }

            var named = JsonSerializer.Deserialize(line.Span, Context.NamedSchema);
            entry = named?.Schema == Schema ? JsonSerializer.Deserialize(line.Span, Context.HistoryEntry) : null;
        }
        catch (JsonException)
        {
            // The caller says which line of which file is not an entry.
        }

        return entry?.Figures.All(IsFigure) == true;
    }

    // Items of a list may be null in JSON whatever their type says.
    private static bool IsFigure(HistoryFigure? figure) =>
        figure is { CandidateRuns: >= 0 and <= MostRuns, BaselineRuns: >= 0 and <= MostRuns } && figure.Meters.All(m => m is not null);
}

/// <summary>The name of a document's schema, which is looked at before the rest.</summary>
/// <param name="Schema">The name.</param>
internal sealed record NamedSchema(string Schema);

/// <summary>How an entry of a history becomes JSON, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(
    GenerationMode = JsonSourceGenerationMode.Metadata,
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true)]
[JsonSerializable(typeof(HistoryEntry))]
[JsonSerializable(typeof(NamedSchema))]
internal sealed partial class HistoryContext : JsonSerializerContext;
