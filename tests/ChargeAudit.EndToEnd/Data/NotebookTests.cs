using System.Text.Json;

namespace ChargeAudit.EndToEnd.Data;

/// <summary>The notebook's cells run in the .NET kernel, one after the other, and print what the notebook holds as their output.</summary>
public sealed class NotebookTests : IDisposable
{
    // In place of the packages, what was built.
    private static readonly string References = string.Join('\n',
        new[] { "Metrology", "Logs", "Coils", "Measuring", "Studies", "Comparing", "Checking", "Pooling", "Reports" }
        .Select(l => $"ChargeAudit.{l}.dll").Concat(["Microsoft.Data.Analysis.dll", "Apache.Arrow.dll"])
        .Select(f => $"#r \"{Path.Combine(AppContext.BaseDirectory, f)}\""));

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Each_cell_prints_what_the_notebook_shows()
    {
        string kernelPath = Needs.NotebookKernel();
        string logs = Path.Combine(_folder.Path, "sample-logs");
        Directory.CreateDirectory(logs);
        foreach (string file in Directory.GetFiles(Repository.SampleLogs))
        {
            File.Copy(file, Path.Combine(logs, Path.GetFileName(file)));
        }

        var cells = JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.Root, "docs", "data.ipynb"))).RootElement
            .GetProperty("cells").EnumerateArray().Where(c => c.GetProperty("cell_type").GetString() == "code").ToList();
        Assert.Contains("#r \"nuget: ChargeAudit.Reports", Joined(cells[0].GetProperty("source")), StringComparison.Ordinal);
        using var kernel = new NotebookKernel(kernelPath, _folder.Path);
        Assert.Equal("", kernel.Submit(References));
        foreach (var cell in cells.Skip(1))
        {
            string code = Joined(cell.GetProperty("source"));
            string shown = string.Concat(cell.GetProperty("outputs").EnumerateArray().Select(o => Joined(o.GetProperty("text"))));
            string printed = kernel.Submit(code);
            Assert.True(shown.Length > 0 && shown == printed, $"the cell\n{code}\nprinted\n{printed}\nand the notebook shows\n{shown}");
        }
    }

    private static string Joined(JsonElement lines) => lines.ValueKind == JsonValueKind.String
        ? lines.GetString()!
        : string.Concat(lines.EnumerateArray().Select(l => l.GetString()));
}
