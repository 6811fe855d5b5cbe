using System.Text.Json;
using Json.Schema;

namespace ChargeAudit.EndToEnd;

/// <summary>The published schema of the JSON documents.</summary>
internal static class ResultsSchema
{
    private static readonly Lazy<JsonSchema> Schema =
        new(() => JsonSchema.FromText(File.ReadAllText(Path.Combine(Repository.Root, "docs", "results.schema.json"))));

    public static void Holds(JsonElement document)
    {
        var outcome = Schema.Value.Evaluate(document, new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(outcome.IsValid,
            string.Join("\n", (outcome.Details ?? []).Where(d => d.Errors is { Count: > 0 })
            .Select(d => $"{d.InstanceLocation}: {string.Join(", ", d.Errors!.Values)}")));
    }
}
