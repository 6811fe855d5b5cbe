using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Folders;

namespace ChargeAudit.Tests.Reports;

public sealed class ReportFolderTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void All_files_are_there_and_nothing_half_written()
    {
        string folder = Path.Combine(_folder, "deep", "report");
        var written = ReportFolder.Write(Small(), folder, cancellation: TestContext.Current.CancellationToken);
        Assert.All(written, f => Assert.True(new FileInfo(f).Length > 100));
        var names = Directory.GetFiles(folder, "*", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/')).ToHashSet();
        Assert.Equal(written.Count + 1, names.Count);
        Assert.Superset(new HashSet<string> { "report.html", "report.md", "results.json", "sessions.csv", "chargeaudit-files.json",
            "charts/power-wall.svg", "charts/power-wall.png", "charts/year.svg" }, names);
        Assert.DoesNotContain(names, n => n.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public void Tables_that_are_asked_for_are_written_besides()
    {
        var written = ReportFolder.Write(Small(), _folder, tables: [TableFormat.Parquet, TableFormat.Arrow],
            cancellation: TestContext.Current.CancellationToken);
        string[] tables = [.. written.Select(f => Path.GetFileName(f)!).Where(n => n.EndsWith(".csv", StringComparison.Ordinal)
            || n.EndsWith(".parquet", StringComparison.Ordinal) || n.EndsWith(".arrow", StringComparison.Ordinal))];
        Assert.Equal(["sessions.csv", "sessions.parquet", "sessions.arrow", "results.parquet", "results.arrow", "modes.parquet",
            "modes.arrow", "envelope.parquet", "envelope.arrow"], tables);
    }

    [Fact]
    public void A_second_report_replaces_the_first()
    {
        ReportFolder.Write(Small(), _folder, cancellation: TestContext.Current.CancellationToken);
        File.WriteAllText(Path.Combine(_folder, "report.md"), "old");
        ReportFolder.Write(Small(), _folder, cancellation: TestContext.Current.CancellationToken);
        Assert.StartsWith("# ", File.ReadAllText(Path.Combine(_folder, "report.md")), StringComparison.Ordinal);
    }

    [Fact]
    public void Pictures_named_in_the_text_are_there()
    {
        ReportFolder.Write(Small(), _folder, cancellation: TestContext.Current.CancellationToken);
        var names = System.Text.RegularExpressions.Regex.Matches(File.ReadAllText(Path.Combine(_folder, "report.md")),
            @"\]\((charts/[^)]+)\)").Select(m => m.Groups[1].Value).ToList();
        Assert.NotEmpty(names);
        Assert.All(names, n => Assert.True(File.Exists(Path.Combine(_folder, n))));
    }

    [Fact]
    public void Chart_files_stand_alone_with_their_font()
    {
        ReportFolder.Write(Small(), _folder, cancellation: TestContext.Current.CancellationToken);
        string svg = File.ReadAllText(Path.Combine(_folder, "charts", "year.svg"));
        Assert.StartsWith("<?xml", svg, StringComparison.Ordinal);
        Assert.Contains("data:font/woff2;base64,", svg, StringComparison.Ordinal);
        Assert.Equal("svg", System.Xml.Linq.XDocument.Parse(svg).Root!.Name.LocalName);
    }

    [Fact]
    public void A_folder_that_is_a_file_is_one_clear_sentence()
    {
        string path = Path.Combine(_folder, "report");
        File.WriteAllText(path, "in the way");
        var problem =
            Assert.Throws<InputException>(() => ReportFolder.Write(Small(), path, cancellation: TestContext.Current.CancellationToken));
        Assert.Equal(InputProblem.CannotWrite, problem.Problem);
        Assert.Contains("report is a file, and a folder was expected", problem.Message, StringComparison.Ordinal);
        Assert.Equal(Remedy.Output, problem.Remedy);
        Assert.DoesNotContain('\n', problem.Message);
        Assert.Equal("in the way", File.ReadAllText(path));
    }

    [Fact]
    public void A_report_that_is_interrupted_leaves_nothing_behind()
    {
        using var interrupt = new CancellationTokenSource();
        interrupt.Cancel();
        Assert.Throws<OperationCanceledException>(() => ReportFolder.Write(Small(), _folder, cancellation: interrupt.Token));
        Assert.Empty(Directory.GetFiles(_folder, "*", SearchOption.AllDirectories));
    }

    private static ChargeAudit.Comparing.Results.AuditResult Small() => new ReportFixture
    {
        SamplesPerLog = 60,
        IntervalS = 120,
        Runs = 1,
    }.Build();
}
