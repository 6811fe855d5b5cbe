namespace ChargeAudit.EndToEnd.Library;

/// <summary>The sample in the document about the library is this very code, and does what the document says.</summary>
public sealed class LibrarySampleTests
{
    [Fact]
    public void The_document_holds_the_sample_that_is_compiled_here()
    {
        string document = File.ReadAllText(Path.Combine(Repository.Root, "docs", "library.md")).ReplaceLineEndings("\n");
        string sample = File.ReadAllText(Path.Combine(Repository.Root, "tests", "ChargeAudit.EndToEnd", "Library", "OverheadOfTwoLogs.cs"))
            .ReplaceLineEndings("\n");
        Assert.Contains($"```csharp\n{sample}```\n", document, StringComparison.Ordinal);
    }

    [Fact]
    public void It_prints_what_the_document_says_and_holds_the_true_ratio()
    {
        using var output = new StringWriter { NewLine = "\n" };
        var ratio = OverheadOfTwoLogs.Of(Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"),
            Path.Combine(Repository.SampleLogs, "pad-1-wall.csv"), output);
        string document = File.ReadAllText(Path.Combine(Repository.Root, "docs", "library.md")).ReplaceLineEndings("\n");
        Assert.Contains($"```text\n{output}```\n", document, StringComparison.Ordinal);

        // truth.json: the mean over the runs. One pair of runs scatters by its repeatability, which two logs alone cannot show: 2 % is
        // allowed.
        Assert.InRange(ratio.Value, 0.98 * Truth(), 1.02 * Truth());
    }

    private static double Truth() =>
        System.Text.Json.JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.SampleLogs, "truth.json"))).RootElement
        .GetProperty("comparisons")[0].GetProperty("overheadRatio").GetProperty("wall").GetDouble();
}
