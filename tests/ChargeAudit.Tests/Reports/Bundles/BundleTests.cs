using System.Globalization;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Bundles;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Reports.Bundles;

/// <summary>Bundles: what they contain, that they verify, and that a changed byte and a changed figure are found.</summary>
public sealed class BundleTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-bundle-test-").FullName;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_bundle_is_a_bag_that_holds()
    {
        var (path, sha256) = Write();
        using (var zip = ZipFile.OpenRead(path))
        {
            Assert.Equal(
                ["audit/bag-info.txt", "audit/bagit.txt", "audit/data/results.json", "audit/data/study/logs/cable.csv",
                    "audit/data/study/logs/pad.csv", "audit/data/study/studies/study.toml", "audit/manifest-sha256.txt",
                    "audit/report.html", "audit/tagmanifest-sha256.txt"],
                zip.Entries.Select(e => e.FullName).Order(StringComparer.Ordinal));
            Assert.Equal("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", Text(zip, "audit/bagit.txt"));

            // The octets and the files of the payload, counted by hand from the archive.
            var payload = zip.Entries.Where(e => e.FullName.StartsWith("audit/data/", StringComparison.Ordinal)).ToList();
            Assert.Contains(InvariantText.Of($"Payload-Oxum: {payload.Sum(e => e.Length)}.4\n"), Text(zip, "audit/bag-info.txt"),
                StringComparison.Ordinal);
            Assert.Contains(sha256, Text(zip, "audit/report.html"), StringComparison.Ordinal);
            string manifest = Text(zip, "audit/manifest-sha256.txt");
            Assert.Equal(sha256, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(manifest))));
            string cable = Convert.ToHexStringLower(SHA256.HashData(
                File.ReadAllBytes(Path.Combine(_folder, "logs", "cable.csv"))));
            Assert.Contains($"{cable}  data/study/logs/cable.csv\n", manifest, StringComparison.Ordinal);
        }

        var verification = BundleVerifier.Verify(path, TestContext.Current.CancellationToken);
        Assert.True(verification.Holds, string.Join(' ', verification.Damage.Concat(verification.Differences.Select(d => d.ToString()))));
        Assert.True(verification.FiguresCompared > 100);
        Assert.Equal(sha256, verification.Sha256);
        Assert.Empty(ResultsSchema.Problems(BundleJson.Verified(path, verification)));
        Assert.Empty(ResultsSchema.Problems(BundleJson.Written(path, sha256, ["study.toml"])));
    }

    [Theory]
    [InlineData("data/study/logs/cable.csv")]
    [InlineData("data/study/studies/study.toml")]
    [InlineData("data/results.json")]
    [InlineData("bag-info.txt")]
    [InlineData("report.html")]
    public void A_changed_byte_is_found(string name)
    {
        var (path, _) = Write();
        Change(path, "audit/" + name, bytes =>
        {
            bytes[bytes.Length / 2] ^= 1;
            return bytes;
        });
        var verification = BundleVerifier.Verify(path, TestContext.Current.CancellationToken);
        Assert.False(verification.Holds);
        Assert.StartsWith(name + " is not the file that the bundle was made of", Assert.Single(verification.Damage),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_and_an_added_file_are_found()
    {
        var (path, _) = Write();
        using (var zip = ZipFile.Open(path, ZipArchiveMode.Update))
        {
            zip.GetEntry("audit/data/study/logs/pad.csv")!.Delete();
            using var stream = zip.CreateEntry("audit/data/more.csv").Open();
            stream.WriteByte(1);
        }

        var damage = BundleVerifier.Verify(path, Stop).Damage;
        Assert.Equal(["data/study/logs/pad.csv is missing.", "data/more.csv stands in no list of the bundle."], damage);
    }

    // Somebody who changes a figure and mends the hashes is found by the new audit.
    [Fact]
    public void A_figure_that_does_not_follow_from_the_logs_is_found_with_its_difference()
    {
        var (path, _) = Write();
        string results = "", was = "";
        Change(path, "audit/data/results.json", bytes =>
        {
            results = Encoding.UTF8.GetString(bytes);
            int at = results.IndexOf("\"runEnergiesWh\"", StringComparison.Ordinal);
            int from = results.IndexOf('[', at) + 1;
            was = results[from..results.IndexOf(']', from)].Trim();
            results = results[..from] + " 99.5 " + results[(from + results[from..].IndexOf(']', StringComparison.Ordinal))..];
            return Encoding.UTF8.GetBytes(results);
        });
        string hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(results)));
        Relist(path, "audit/manifest-sha256.txt", "data/results.json", hash);
        using (var zip = ZipFile.OpenRead(path))
        {
            hash = Convert.ToHexStringLower(SHA256.HashData(
                Encoding.UTF8.GetBytes(Text(zip, "audit/manifest-sha256.txt"))));
        }

        Relist(path, "audit/tagmanifest-sha256.txt", "manifest-sha256.txt", hash);
        var verification = BundleVerifier.Verify(path, TestContext.Current.CancellationToken);
        Assert.Empty(verification.Damage);
        var difference = Assert.Single(verification.Differences);
        Assert.EndsWith("runEnergiesWh[0]", difference.Where, StringComparison.Ordinal);
        Assert.Equal(double.Parse(was, CultureInfo.InvariantCulture) - 99.5, difference.Difference!.Value, 1e-9);
    }

    [Fact]
    public void What_is_no_bundle_is_refused()
    {
        string text = Path.Combine(_folder, "no.zip");
        File.WriteAllText(text, "no archive");
        Assert.Contains("is no bundle of an audit", Assert.Throws<InputException>(() => BundleVerifier.Verify(text, Stop)).Message,
            StringComparison.Ordinal);
        Assert.Equal(InputProblem.Missing,
            Assert.Throws<InputException>(() => BundleVerifier.Verify(Path.Combine(_folder, "none.zip"), Stop)).Problem);
        string outside = Path.Combine(_folder, "outside.zip");
        using (var zip = ZipFile.Open(outside, ZipArchiveMode.Create))
        {
            zip.CreateEntry("a/bagit.txt");
            zip.CreateEntry("a/../../evil.txt");
        }

        Assert.Contains("lies outside it", Assert.Throws<InputException>(() => BundleVerifier.Verify(outside, Stop)).Message,
            StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(Path.GetTempPath(), "evil.txt")));
    }

    [Fact]
    public void A_file_that_stands_there_and_an_absolute_path_are_refused()
    {
        var (path, _) = Write();
        var e = Assert.Throws<InputException>(() => BundleWriter.Write(Audit(), path, cancellation: Stop));
        Assert.Contains("already exists", e.Message, StringComparison.Ordinal);
        string study = Path.Combine(_folder, "studies", "study.toml");
        File.WriteAllText(study, File.ReadAllText(study).Replace("../logs", Path.Combine(_folder, "logs").Replace('\\', '/'),
            StringComparison.Ordinal));
        e = Assert.Throws<InputException>(() => BundleWriter.Write(Audit(), Path.Combine(_folder, "b.zip"), cancellation: Stop));
        Assert.Contains("by an absolute path, which no other machine has", e.Message, StringComparison.Ordinal);
    }

    private (string Path, string Sha256) Write()
    {
        Directory.CreateDirectory(Path.Combine(_folder, "logs"));
        Directory.CreateDirectory(Path.Combine(_folder, "studies"));
        void Log(string name, double power) => File.WriteAllLines(Path.Combine(_folder, "logs", name), Enumerable.Range(0, 3000)
            .Select(t => (Time: t, PowerW: t is >= 300 and < 2100 ? power + (0.01 * (t % 7)) : 0.2))
            .Select(r => InvariantText.Of($"{r.Time},{r.PowerW:F3}")).Prepend("time_s,power_W"));
        Log("cable.csv", 8);
        Log("pad.csv", 12);
        File.WriteAllText(Path.Combine(_folder, "studies", "study.toml"), """
            [methods.cable]
            kind = "wired"
            [methods.pad]
            kind = "inductive"
            [meters.bench]
            accuracy = { power = "0.5 % + 2 mW" }
            [[runs]]
            method = "cable"
            logs = { usb = { file = "../logs/cable.csv", meter = "bench" } }
            [[runs]]
            method = "pad"
            logs = { usb = { file = "../logs/pad.csv", meter = "bench" } }
            """);
        string path = Path.Combine(_folder, "audit.zip");
        return (path, BundleWriter.Write(Audit(), path, cancellation: TestContext.Current.CancellationToken).Sha256);
    }

    private ChargeAudit.Comparing.Results.AuditResult Audit()
    {
        string study = Path.Combine(_folder, "studies", "study.toml");
        return Auditor.Run(StudyReader.Load(study),
            new AuditOptions { ProgramVersion = "1", CommandLine = "", StudyFile = study, Clock = TimeProvider.System }, Stop);
    }

    private static string Text(ZipArchive zip, string name)
    {
        using var reader = new StreamReader(zip.GetEntry(name)!.Open());
        return reader.ReadToEnd();
    }

    private static void Change(string path, string name, Func<byte[], byte[]> change)
    {
        using var zip = ZipFile.Open(path, ZipArchiveMode.Update);
        var entry = zip.GetEntry(name)!;
        byte[] bytes;
        using (var stream = entry.Open())
        using (var memory = new MemoryStream())
        {
            stream.CopyTo(memory);
            bytes = memory.ToArray();
        }

        entry.Delete();
        using var target = zip.CreateEntry(name).Open();
        target.Write(change(bytes));
    }

    private static void Relist(string path, string manifest, string name, string hash) => Change(path, manifest, bytes =>
        Encoding.UTF8.GetBytes(string.Concat(Encoding.UTF8.GetString(bytes).Split('\n',
            StringSplitOptions.RemoveEmptyEntries)
            .Select(l => l.EndsWith("  " + name, StringComparison.Ordinal) ? $"{hash}  {name}\n" : l + "\n"))));
}
