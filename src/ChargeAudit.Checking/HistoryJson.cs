using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using ChargeAudit.Checking.Documents;

namespace ChargeAudit.Checking;

/// <summary>One line of a history: an entry behind the name of its schema.</summary>
internal static class HistoryJson
{
    /// <summary>Name and version of a line.</summary>
    public const string Schema = SchemaNames.History;

    /// <summary>What every line starts with.</summary>
    public const string Start = "{\"schema\":\"" + Schema + "\"";

    private static readonly HistoryContext Context = new(new JsonSerializerOptions(HistoryContext.Default.Options) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });

    public static string Line(HistoryEntry entry) => Start + "," + JsonSerializer.Serialize(entry, Context.HistoryEntry)[1..];

    public static bool TryRead(ReadOnlyMemory<byte> line, out HistoryEntry? entry)
    {
        entry = null;
        try
        {
            var named = JsonSerializer.Deserialize(line.Span, Context.NamedSchema);
            entry = named?.Schema == Schema ? JsonSerializer.Deserialize(line.Span, Context.HistoryEntry) : null;
        }
        catch (JsonException)
        {
            // The caller says which line of which file is no entry.
        }

        return entry is not null;
    }
}

/// <summary>The name of a document's schema, which is looked at before the rest.</summary>
/// <param name="Schema">The name.</param>
internal sealed record NamedSchema(string Schema);

/// <summary>How an entry of a history becomes JSON, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, RespectNullableAnnotations = true, RespectRequiredConstructorParameters = true)]
[JsonSerializable(typeof(HistoryEntry))]
[JsonSerializable(typeof(NamedSchema))]
internal sealed partial class HistoryContext : JsonSerializerContext;
