using System.Text;
using System.Text.Json.Nodes;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Tests.Reports.Json;

public sealed class ResultsJsonTests
{
    public static TheoryData<string> Documents => ["full", "bare", "unknown", "hostile", "measure", "inspect"];

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_audit_document_is_the_same_under_every_culture(string culture) =>
        Golden.Check("audit.json", Golden.Under(culture, () => ResultsJson.Audit(TwoLogs())));

    // The file is written record by record, and the text is made as a whole.
    [Theory]
    [InlineData(null)]
    [InlineData("de")]
    public void The_file_holds_the_bytes_of_the_text(string? reader)
    {
        using var form = reader is null ? null : WrittenForm.Find(reader)!.Use();
        var result = TwoLogs();
        using var file = new MemoryStream();
        ResultsJson.WriteAudit(result, file);
        Assert.Equal(ResultsJson.Audit(result), Encoding.UTF8.GetString(file.ToArray()));
    }

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_measure_document_is_the_same_under_every_culture(string culture) =>
        Golden.Check("measure.json", Golden.Under(culture, () => ResultsJson.Measure([Small().Build().Logs[0]])));

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_inspect_document_is_the_same_under_every_culture(string culture) =>
        Golden.Check("inspect.json", Golden.Under(culture, () => ResultsJson.Inspect([Inspected()])));

    [Theory]
    [MemberData(nameof(Documents))]
    public void A_document_fits_the_schema_and_holds_no_member_that_the_schema_does_not_know(string which)
    {
        var problems = ResultsSchema.Problems(Text(which));
        Assert.True(problems.Count == 0, string.Join("\n", problems.Take(12)));
    }

    [Fact]
    public void The_schema_refuses_a_document_without_its_methods_or_with_a_foreign_member()
    {
        var document = JsonNode.Parse(ResultsJson.Audit(Small().Build()))!.AsObject();
        document["foreign"] = 1;
        Assert.False(IsValid(document));
        document.Remove("foreign");
        Assert.True(IsValid(document));
        document.Remove("methods");
        Assert.False(IsValid(document));
    }

    [Fact]
    public void Null_never_stands_without_its_reason()
    {
        var unexplained = new List<string>();
        Walk(JsonNode.Parse(
            ResultsJson.Audit((Small() with { KnownUncertainty = false, WallMeasured = false, PriceOrNone = 0, CommandLine = null })
            .Build()))!, "", unexplained);
        Assert.Empty(unexplained);
    }

    [Fact]
    public void A_measured_quantity_has_its_interval_and_its_signed_components()
    {
        var result = Small().Build();
        var document = JsonNode.Parse(ResultsJson.Audit(result))!;
        var expected = result.Comparisons[0].ExtraEnergyPerCharge.Value!;
        var got = document["comparisons"]![0]!["extraEnergyPerCharge"]!;
        Assert.Equal(expected.Value, (double)got["value"]!);
        Assert.Equal("Wh", (string?)got["unit"]);
        Assert.Equal(expected.StandardUncertainty!.Value, (double)got["u"]!);
        Assert.Equal(expected.Interval()!.Value.Low, (double)got["low"]!);
        Assert.Equal(expected.Components.Select(c => c.SignedStandardUncertainty), got["components"]!.AsArray()
            .Select(c => (double)c!["u"]!));
        Assert.Contains(got["components"]!.AsArray(), c => (double)c!["u"]! < 0);
    }

    [Fact]
    public void What_is_no_number_becomes_null_with_a_reason()
    {
        var log = Small().Build().Logs[0] with { Energy = Measured.Exact(double.NaN, "Wh"), PeakPowerW = double.PositiveInfinity };
        var got = JsonNode.Parse(ResultsJson.Measure([log]))!["logs"]![0]!;
        Assert.Null(got["energy"]);
        Assert.Equal("the calculation gave no number", (string?)got["energyReason"]);
        Assert.Null(got["peakPower"]);
    }

    [Fact]
    public void A_doubt_and_a_note_on_fairness_say_how_much_they_matter()
    {
        var built = Small().Build();
        var log = built.Logs[0] with { Doubts = [new(Gravity.Wrong, "The end is not seen."), new(Gravity.Reading, "Two rows repeat.")] };
        var result = built with
        {
            Logs = [log],
            Fairness = [new("a", "The pad took longer.", []), new("b", "The runs cannot be compared.", []) { Gravity = Gravity.Wrong }],
        };
        var document = JsonNode.Parse(ResultsJson.Audit(result))!;
        Assert.Equal(["The end is not seen.", "Two rows repeat."], Texts(document["logs"]![0]!["doubts"]));
        Assert.Equal(["wrong", "reading"], Texts(document["logs"]![0]!["doubtGravities"]));
        Assert.Equal(["unfair", "wrong"], document["fairness"]!.AsArray().Select(n => (string?)n!["gravity"]));
        Assert.True(IsValid(document.AsObject()));
        document["fairness"]![0]!["gravity"] = "slight";
        Assert.False(IsValid(document.AsObject()));
    }

    private static IEnumerable<string?> Texts(JsonNode? list) => list!.AsArray().Select(t => (string?)t);

    private static string Text(string which) => which switch
    {
        "full" => ResultsJson.Audit(Small().Build()),
        "bare" =>
            ResultsJson.Audit((Small() with { KnownUncertainty = false, WallMeasured = false, PriceOrNone = 0, CommandLine = null })
            .Build()),
        "unknown" => ResultsJson.Audit(Small().Build() with
        {
            Comparisons = [new ComparisonResult("cable", "pad", MeasuringPoint.Wall, Figure.None("a"), Figure.None("b"), Figure.None("c"))],
            Stages = [],
            Fairness = [],
        }),
        "hostile" => ResultsJson.Audit((Small() with { Pad = "</script>\"\\\u0001", Title = "\u2028" }).Build()),
        "measure" => ResultsJson.Measure(Small().Build().Logs),
        _ => ResultsJson.Inspect([Inspected()]),
    };

    private static ReportFixture Small() => new() { SamplesPerLog = 60, IntervalS = 120, Runs = 2 };

    private static AuditResult TwoLogs()
    {
        var result = (Small() with { Runs = 1 }).Build();
        return result with { Logs = [result.Logs[0], result.Logs[^1]] };
    }

    private static InspectedLog Inspected() => new(
        "cable-1-wall.csv",
        InventedLog.WithSpike(10, 20, 4).Layout(null) with { Notes = ["The third column holds no known quantity and is left out."] },
        new ReadOutcome(9, 1, 321,
            [new Fault(FaultKind.UnreadableField, 5, 5, 1, "The power was '--'; the row was left out."),
            new Fault(FaultKind.Encoding, 0, 0, 2, "Two bytes are no UTF-8.")], new string('c', 64)),
        9);

    private static bool IsValid(JsonObject document) => ResultsSchema.Problems(document.ToJsonString()).Count == 0;

    private static void Walk(JsonNode node, string path, List<string> unexplained)
    {
        // An unknown interval is explained once, by uReason; unlimited degrees of freedom and the last line follow from their neighbours.
        string[] explained = ["low", "high", "coverage", "k", "dof", "lastLine"];
        if (node is JsonObject members)
        {
            foreach (var (name, value) in members)
            {
                if (value is null && !explained.Contains(name) && members[name + "Reason"] is null)
                {
                    unexplained.Add($"{path}/{name}");
                }
                else if (value is not null)
                {
                    Walk(value, $"{path}/{name}", unexplained);
                }
            }
        }
        else if (node is JsonArray items)
        {
            foreach (var item in items.OfType<JsonNode>())
            {
                Walk(item, path + "/[]", unexplained);
            }
        }
    }
}
