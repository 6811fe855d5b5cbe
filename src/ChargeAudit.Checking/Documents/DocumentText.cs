using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using ChargeAudit.Metrology;

namespace ChargeAudit.Checking.Documents;

/// <summary>
/// Makes one JSON document: indented, lines end with a line feed, no byte-order mark. Only what JSON itself asks for is escaped: the
/// document is a file or standard output, and is never part of a page.
/// </summary>
internal static class DocumentText
{
    private const string ReasonEnding = "Reason";

    /// <summary>How documents are written and read, by records whose contracts were made when the program was compiled.</summary>
    /// <param name="contracts">The records.</param>
    public static JsonSerializerOptions Options(IJsonTypeInfoResolver contracts) => new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        RespectNullableAnnotations = true,
        TypeInfoResolver = contracts.WithAddedModifier(LeaveOutReasonsOfWhatIsKnown),
    };

    /// <summary>The text of a document; it ends with a line feed.</summary>
    public static string Of<T>(T document, JsonSerializerOptions options) =>
        WrittenMarks.ExactJson(JsonSerializer.Serialize(document, (JsonTypeInfo<T>)options.GetTypeInfo(typeof(T)))) + "\n";

    /// <summary>Writes the same in UTF-8, record by record, so that it is never in memory as a whole.</summary>
    public static void Write<T>(Stream to, T document, JsonSerializerOptions options)
    {
        using (var exact = WrittenMarks.ExactJson(to))
        {
            JsonSerializer.Serialize(exact, document, (JsonTypeInfo<T>)options.GetTypeInfo(typeof(T)));
        }

        to.WriteByte((byte)'\n');
    }

    // A value that is not known is null, with its reason beside it; a known one has no such member.
    private static void LeaveOutReasonsOfWhatIsKnown(JsonTypeInfo type)
    {
        foreach (var member in type.Properties)
        {
            if (member.Name.EndsWith(ReasonEnding, StringComparison.Ordinal))
            {
                member.ShouldSerialize = static (_, reason) => reason is not null;
            }
        }
    }
}
