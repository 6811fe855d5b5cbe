using System.IO.Compression;
using System.Reflection.PortableExecutable;
using System.Xml.Linq;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.EndToEnd;

/// <summary>What <c>dotnet pack</c> makes, installed and used as its user would, with no package source but the folder it lies
/// in.</summary>
public sealed class PackedToolTests : IDisposable
{
    // Each library with those of ours that it names; what those name in turn comes with them.
    private static readonly Dictionary<string, string[]> Libraries = new(StringComparer.Ordinal)
    {
        ["ChargeAudit.Metrology"] = [],
        ["ChargeAudit.Logs"] = ["ChargeAudit.Metrology"],
        ["ChargeAudit.Coils"] = ["ChargeAudit.Metrology"],
        ["ChargeAudit.Measuring"] = ["ChargeAudit.Logs"],
        ["ChargeAudit.Studies"] = ["ChargeAudit.Coils", "ChargeAudit.Measuring"],
        ["ChargeAudit.Comparing"] = ["ChargeAudit.Studies"],
        ["ChargeAudit.Checking"] = ["ChargeAudit.Comparing"],
        ["ChargeAudit.Simulation"] = ["ChargeAudit.Studies"],
        ["ChargeAudit.Pooling"] = ["ChargeAudit.Checking"],
        ["ChargeAudit.Reports"] = ["ChargeAudit.Pooling"],
    };

    // What was built for these tests is packed as it stands, once for all of them.
    private static readonly Lazy<string> Packages = new(Pack);

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_packed_tool_installs_from_its_file_alone_and_audits_the_sample_study()
    {
        string packages = Packages.Value;
        string tools = Path.Combine(_folder.Path, "tools");
        string config =
            _folder.File("nuget.config",
            $"<configuration><packageSources><clear /><add key=\"packed\" value=\"{packages}\" /></packageSources></configuration>");
        Succeeds(Run.Process(_folder.Path, "dotnet", "tool", "install", "chargeaudit", "--tool-path", tools, "--add-source", packages,
            "--configfile", config, "--version", ProgramVersion.Text));
        string tool = Path.Combine(tools, OperatingSystem.IsWindows() ? "chargeaudit.exe" : "chargeaudit");

        Assert.Equal(ProgramVersion.Text, Succeeds(Run.Process(_folder.Path, tool, "--version")).Output.Trim().Split('+')[0]);
        var audit = Succeeds(Run.Process(_folder.Path, tool, "audit", _folder.SampleLogs(), "--out", "report"));
        Assert.Contains("more energy at the wall than charging by cable", audit.Output, StringComparison.Ordinal);
        Assert.True(new FileInfo(Path.Combine(_folder.Path, "report", "report.html")).Length > 100_000);
        Assert.True(new FileInfo(Path.Combine(_folder.Path, "report", "charts", "power-wall.png")).Length > 5_000);
        CarriesWhatEveryPackageCarries(Path.Combine(packages, $"chargeaudit.{ProgramVersion.Text}.nupkg"), "chargeaudit");
    }

    [Fact]
    public void The_libraries_are_packages_with_documentation_and_symbols_that_name_one_another()
    {
        foreach (var (library, named) in Libraries)
        {
            string file = Path.Combine(Packages.Value, $"{library}.{ProgramVersion.Text}.nupkg");
            using var package = ZipFile.OpenRead(file);
            Assert.True(package.GetEntry($"lib/net10.0/{library}.xml")!.Length > 10_000, library);
            using var assembly = new PEReader(new MemoryStream(Bytes(package.GetEntry($"lib/net10.0/{library}.dll")!)));
            Assert.Contains(assembly.ReadDebugDirectory(), d => d.Type == DebugDirectoryEntryType.EmbeddedPortablePdb);
            Assert.Contains(assembly.ReadDebugDirectory(), d => d.Type == DebugDirectoryEntryType.Reproducible);
            var metadata = CarriesWhatEveryPackageCarries(file, library);
            var needs = metadata.Descendants().Where(e => e.Name.LocalName == "dependency").Select(e => (string)e.Attribute("id")!)
                .ToList();
            Assert.Equal(named, needs.Where(n => n.StartsWith("ChargeAudit.", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
            Assert.DoesNotContain("Microsoft.CodeAnalysis.BannedApiAnalyzers", needs);
        }
    }

    private static XElement CarriesWhatEveryPackageCarries(string file, string id)
    {
        using var package = ZipFile.OpenRead(file);
        var metadata =
            XElement.Load(new MemoryStream(Bytes(package.Entries.Single(e => e.FullName.EndsWith(".nuspec", StringComparison.Ordinal)))));
        string Value(string name) => metadata.Descendants().Single(e => e.Name.LocalName == name).Value;
        Assert.Equal((id, ProgramVersion.Text, "Apache-2.0", "README.md"),
            (Value("id"), Value("version"), Value("license"), Value("readme")));
        Assert.True(Value("description").Length > 40);
        Assert.All(["README.md", "CHANGELOG.md", "THIRD-PARTY-NOTICES.md"],
            n => Assert.True(package.GetEntry(n)?.Length > 500, $"{id} lacks {n}"));
        return metadata;
    }

    private static string Pack()
    {
        var folder = new TemporaryFolder();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => folder.Dispose();
        Succeeds(
            Run.Process(Repository.Root, "dotnet", "pack", "ChargeAudit.sln", "--no-build", "--output", folder.Path, "-nodeReuse:false"));
        return folder.Path;
    }

    private static byte[] Bytes(ZipArchiveEntry entry)
    {
        using var content = entry.Open();
        using var bytes = new MemoryStream();
        content.CopyTo(bytes);
        return bytes.ToArray();
    }

    private static Run Succeeds(Run run)
    {
        Assert.True(run.Status == 0, run.Output + run.Error);
        return run;
    }
}
