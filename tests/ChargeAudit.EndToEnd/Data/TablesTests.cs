namespace ChargeAudit.EndToEnd.Data;

/// <summary><c>--tables</c> and <c>--out</c>: which files are written, and what is refused.</summary>
public sealed class TablesTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Measure_writes_each_table_in_each_format_that_is_named_and_says_so()
    {
        InventedStudy.Day(_folder, "name = \"an invented handset\"");
        var run = Run.In(_folder.Path, "measure", "pad.csv", "cable.csv", "--out", "tables", "--tables", "arrow", "--tables", "parquet");
        Assert.True(run.Status == 0, run.Error);
        Assert.Equal(["envelope.arrow", "envelope.parquet", "modes.arrow", "modes.parquet", "results.arrow", "results.parquet",
            "sessions.arrow", "sessions.parquet"], Written("tables"));
        Assert.Contains("Tables: tables", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_alone_means_text()
    {
        InventedStudy.Day(_folder, "name = \"an invented handset\"");
        var run = Run.In(_folder.Path, "measure", "pad.csv", "--out", "tables", "--samples", "average-ending", "--quiet");
        Assert.True(run.Status == 0, run.Error);
        Assert.Equal(["envelope.csv", "modes.csv", "results.csv", "sessions.csv"], Written("tables"));

        // Means of a minute: 10 at 0.25 W, 180 at 8 W, 1270 at 1.2 W.
        string[] row = File.ReadAllLines(Path.Combine(_folder.Path, "tables", "results.csv"))[1].Split(',');
        double energy = double.Parse(row[9], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal((10 * 0.25 / 60) + (180 * 8 / 60.0) + (1270 * 1.2 / 60), energy, 6);
    }

    [Fact]
    public void Formats_without_a_folder_are_refused()
    {
        InventedStudy.Day(_folder, "name = \"an invented handset\"");
        var run = Run.In(_folder.Path, "measure", "pad.csv", "--tables", "csv");
        Assert.Equal(64, run.Status);
        Assert.Contains("--out", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void An_audit_adds_the_tables_that_are_asked_for()
    {
        string study = InventedStudy.Day(_folder, "name = \"an invented handset\"");
        Assert.Equal(0, Run.In(_folder.Path, "audit", study, "--out", "report", "--tables", "parquet", "--quiet").Status);
        Assert.Equal(["envelope.parquet", "modes.parquet", "results.parquet", "sessions.csv", "sessions.parquet"], Written("report"));
    }

    [Fact]
    public void A_format_that_there_is_not_is_named_with_those_that_there_are()
    {
        string study = InventedStudy.Day(_folder, "name = \"an invented handset\"");
        var run = Run.In(_folder.Path, "audit", study, "--tables", "xlsx");
        Assert.Equal(64, run.Status);
        Assert.Contains("xlsx", run.Error, StringComparison.Ordinal);
        Assert.Contains("parquet", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(_folder.Path, "chargeaudit-report")));
    }

    private IEnumerable<string> Written(string folder) => Directory.GetFiles(Path.Combine(_folder.Path, folder))
        .Select(f => Path.GetFileName(f)!).Where(n => Path.GetExtension(n) is ".csv" or ".parquet" or ".arrow")
        .Order(StringComparer.Ordinal);
}
