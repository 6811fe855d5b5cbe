using System.Text.Json;
using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Documents;

/// <summary>How results.json becomes records and records become results.json, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(
    GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    RespectNullableAnnotations = true)]
[JsonSerializable(typeof(AuditDocument))]
internal sealed partial class DocumentContext : JsonSerializerContext
{
    /// <summary>How it is written. A context of its own, as the default one may not be there yet when this is made.</summary>
    public static JsonSerializerOptions Written { get; } = DocumentText.Options(new DocumentContext());
}
