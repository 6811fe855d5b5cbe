using System.Text.Json.Nodes;
using Json.Schema;

namespace ChargeAudit.EndToEnd;

/// <summary>The schemas of truth.json and of a line of a history, made strict: what is written has no member that they do not know.
/// </summary>
public sealed class DataSchemasTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("sample-logs/scenario.toml")]
    [InlineData("docs/placement-scenario.toml")]
    [InlineData("docs/scenarios/06-small-phone.toml")]
    [InlineData("docs/scenarios/09-power-bank.toml")]
    public void The_truth_beside_invented_logs_fits_its_schema(string scenario)
    {
        Done("simulate", Path.Combine(Repository.Root, scenario), "--seed", "3", "--meter-seed", "4", "--out", "study");
        Fits("truth.schema.json", File.ReadAllText(Path.Combine(_folder.Path, "study", "truth.json")));
    }

    [Fact]
    public void Each_line_of_a_history_fits_its_schema()
    {
        Done("audit", Path.Combine(Repository.SampleLogs, "study.toml"), "--out", "baseline");
        Done("simulate", "--seed", "2", "--meter-seed", "20260302", "--out", "candidate");
        for (int check = 0; check < 2; check++)
        {
            var run = Run.In(_folder.Path, "check", "candidate/study.toml", "--baseline", "baseline/results.json", "--margin", "10%",
                "--history", "history.jsonl", "--quiet");
            Assert.InRange(run.Status, 0, 2);
        }

        string[] lines = File.ReadAllLines(Path.Combine(_folder.Path, "history.jsonl"));
        Assert.Equal(2, lines.Length);
        Assert.All(lines, l => Fits("history.schema.json", l));
    }

    [Fact]
    public void A_member_of_another_kind_or_name_does_not_fit()
    {
        var schema = Strict("history.schema.json");
        Assert.False(schema.Evaluate(System.Text.Json.JsonDocument.Parse("{\"schema\":\"chargeaudit-history/1\"}").RootElement).IsValid);
        Assert.False(Strict("truth.schema.json").Evaluate(System.Text.Json.JsonDocument.Parse(
            File.ReadAllText(Path.Combine(Repository.SampleLogs, "truth.json")).Replace("\"seed\"", "\"sead\"", StringComparison.Ordinal))
            .RootElement).IsValid);
    }

    private void Done(params string[] arguments) => Assert.Equal(0, Run.In(_folder.Path, [.. arguments, "--quiet"]).Status);

    private static void Fits(string schema, string document)
    {
        var outcome = Strict(schema).Evaluate(System.Text.Json.JsonDocument.Parse(document).RootElement,
            new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(outcome.IsValid, string.Join("\n", (outcome.Details ?? []).Where(d => d.Errors is { Count: > 0 })
            .Select(d => $"{d.InstanceLocation}: {string.Join(", ", d.Errors!.Values)}")));
    }

    private static JsonSchema Strict(string name)
    {
        var root = JsonNode.Parse(File.ReadAllText(Path.Combine(Repository.Root, "docs", name)))!.AsObject();
        Close(root);

        // Each reading of a schema registers its name, which may be there once.
        root.Remove("$id");
        return JsonSchema.FromText(root.ToJsonString());
    }

    private static void Close(JsonNode? node)
    {
        if (node is JsonArray array)
        {
            array.ToList().ForEach(Close);
        }
        else if (node is JsonObject schema)
        {
            schema.Select(m => m.Value).ToList().ForEach(Close);
            if (schema["properties"] is JsonObject)
            {
                schema["additionalProperties"] = false;
            }
        }
    }
}
