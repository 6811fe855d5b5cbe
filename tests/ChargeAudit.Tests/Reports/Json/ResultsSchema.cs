using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace ChargeAudit.Tests.Reports.Json;

/// <summary>The published schema of the JSON documents, made strict.</summary>
internal static class ResultsSchema
{
    private static readonly Lazy<JsonSchema> Strict = new(() => Closed(Golden.RepositoryFile("docs", "results.schema.json")));

    /// <summary>Where a document does not fit; empty where it does.</summary>
    public static IReadOnlyList<string> Problems(string text)
    {
        using var document = JsonDocument.Parse(text);
        var outcome = Strict.Value.Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        return outcome.IsValid
            ? []
            : [.. (outcome.Details ?? []).Where(d => d.Errors is { Count: > 0 })
                .Select(d => $"{d.InstanceLocation}: {string.Join(", ", d.Errors!.Values)}"), "the document does not fit"];
    }

    // Users get an open schema, since members may be added; here every member must be known, so that none goes undocumented.
    private static JsonSchema Closed(string path)
    {
        var root = JsonNode.Parse(File.ReadAllText(path))!;
        Close(root);
        return JsonSchema.FromText(root.ToJsonString());
    }

    private static void Close(JsonNode? node)
    {
        if (node is JsonArray array)
        {
            foreach (var item in array)
            {
                Close(item);
            }
        }
        else if (node is JsonObject schema)
        {
            foreach (var (_, member) in schema)
            {
                Close(member);
            }

            if (schema["properties"] is JsonObject && !schema.ContainsKey("additionalProperties"))
            {
                schema["additionalProperties"] = false;
            }
        }
    }
}
