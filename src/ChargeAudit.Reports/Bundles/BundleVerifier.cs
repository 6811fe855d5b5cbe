using System.IO.Compression;
using System.Text.Json;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Bundles;

/// <summary>Verifies a bundle: every byte by its hash, then the audit done once more, figure by figure.</summary>
public static class BundleVerifier
{
    // Far more than any study; a bundle that claims more is not a bundle of ours.
    private const long MostBytes = 1L << 36;
    private const int MostFiles = 100_000;

    /// <summary>Verifies a bundle.</summary>
    /// <param name="path">The archive.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">It is not a bundle, or cannot be read.</exception>
    public static BundleVerification Verify(string path, CancellationToken cancellation = default)
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-bundle-").FullName;
        try
        {
            var names = Unpack(path, folder, cancellation);
            return OfFolder(path, folder, names, cancellation);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static HashSet<string> Unpack(string path, string folder, CancellationToken cancellation)
    {
        try
        {
            using var zip = ZipFile.OpenRead(path);
            var files = zip.Entries.Where(e => !e.FullName.EndsWith('/')).ToList();
            string root = files.FirstOrDefault(e => e.Name == BundleLayout.Declaration)?.FullName is { } declared
                ? declared[..^BundleLayout.Declaration.Length]
                : throw NoBundle(path, $"it holds no {BundleLayout.Declaration}");
            if (files.Count > MostFiles || files.Sum(e => e.Length) > MostBytes)
            {
                throw NoBundle(path, "it claims to hold more than any study does");
            }

            var names = new HashSet<string>(StringComparer.Ordinal);
            foreach (var entry in files)
            {
                cancellation.ThrowIfCancellationRequested();
                string name = entry.FullName.StartsWith(root, StringComparison.Ordinal) ? entry.FullName[root.Length..] : "";
                string target = Path.GetFullPath(Path.Combine(folder, name));
                if (name.Length == 0 || name.Contains('\\', StringComparison.Ordinal)
                    || !target.StartsWith(folder + Path.DirectorySeparatorChar, StringComparison.Ordinal) || !names.Add(name))
                {
                    throw NoBundle(path, $"it holds {VisibleText.Of(entry.FullName)}, which lies outside it or twice in it");
                }

                Directory.CreateDirectory(Path.GetDirectoryName(target)!);
                using var from = entry.Open();
                using var to = new FileStream(target, FileMode.CreateNew, FileAccess.Write);
                CopyBounded(from, to, entry.Length, path);
            }

            return names;
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing, $"{path} cannot be read: {e.Message.TrimEnd('.')}; check the path of the bundle",
                e);
        }
        catch (Exception e) when (e is InvalidDataException or IOException or NotSupportedException)
        {
            throw NoBundle(path, $"it is no ZIP archive, or is damaged ({e.Message.TrimEnd('.')})");
        }
    }

    // An archive may claim less than it unpacks to.
    private static void CopyBounded(Stream from, FileStream to, long length, string path)
    {
        byte[] block = new byte[1 << 16];
        long copied = 0;
        for (int read; (read = from.Read(block)) > 0;)
        {
            copied += read;
            if (copied > length)
            {
                throw NoBundle(path, "a file in it is longer than it says");
            }

            to.Write(block, 0, read);
        }
    }

    private static BundleVerification OfFolder(string path, string folder, HashSet<string> names, CancellationToken cancellation)
    {
        string Text(string name) => names.Contains(name)
            ? File.ReadAllText(Path.Combine(folder, name))
            : throw NoBundle(path, $"it holds no {name}");
        string manifestText = Text(BundleLayout.Manifest), info = Text(BundleLayout.Info);
        var manifest = BundleLayout.Read(manifestText) ?? throw NoBundle(path, $"its {BundleLayout.Manifest} is no list of hashes");
        var tags = BundleLayout.Read(Text(BundleLayout.TagManifest))
            ?? throw NoBundle(path, $"its {BundleLayout.TagManifest} is no list of hashes");
        List<string> damage = [.. Damage(folder, names, manifest), .. Damage(folder, names, tags)];
        damage.AddRange(names.Where(n => n.StartsWith(BundleLayout.Payload, StringComparison.Ordinal))
            .Except(manifest.Select(m => m.Name)).Select(n => $"{n} stands in no list of the bundle."));
        string hash = FileHash.Sha256(File.ReadAllBytes(Path.Combine(folder, BundleLayout.Manifest)));
        string madeWith = BundleLayout.Value(info, "Bag-Software-Agent") ?? "an unknown program";
        if (damage.Count > 0)
        {
            return new BundleVerification(hash, damage, 0, [], madeWith);
        }

        using var was = JsonDocument.Parse(Text(BundleLayout.Results));
        string study = BundleLayout.Value(info, BundleLayout.StudyLabel) is { } named && names.Contains(named)
            ? Path.Combine(folder, named)
            : throw NoBundle(path, $"its {BundleLayout.Info} names no study that it holds");
        var again = Auditor.Run(StudyReader.Load(study), new AuditOptions
        {
            StudyFile = study,
            Strict = BundleLayout.Value(info, BundleLayout.StrictLabel) == "yes",
            Procedure = BundleLayout.Value(info, BundleLayout.ProcedureLabel) == StableName.Of(PublishedProcedure.UsAppendixY)
                ? PublishedProcedure.UsAppendixY
                : PublishedProcedure.None,
            Clock = new ClockAt(Created(was.RootElement)),
        }, cancellation);
        using var now = JsonDocument.Parse(ResultsJson.Audit(again));
        var (compared, differences) = ResultsComparison.Of(was.RootElement, now.RootElement);
        return new BundleVerification(hash, [], compared, differences, madeWith);
    }

    private static IEnumerable<string> Damage(string folder, HashSet<string> names, IEnumerable<(string Name, string Sha256)> list)
    {
        foreach (var (name, sha256) in list)
        {
            if (!names.Contains(name))
            {
                yield return $"{VisibleText.Of(name)} is missing.";
            }
            else if (FileHash.Sha256(Path.Combine(folder, name)) != sha256)
            {
                yield return $"{VisibleText.Of(name)} is not the file that the bundle was made of: its hash is another one.";
            }
        }
    }

    private static DateTimeOffset Created(JsonElement results) =>
        results.TryGetProperty("provenance", out var from) && from.TryGetProperty("created", out var created)
            && created.TryGetDateTimeOffset(out var time)
            ? time
            : DateTimeOffset.UnixEpoch;

    private static InputException NoBundle(string path, string why) =>
        new(InputProblem.Unusable, $"{path} is no bundle of an audit: {why}; name an archive that this program wrote");

    // Limits are looked up as they stood on the day of the audit.
    private sealed class ClockAt(DateTimeOffset time) : TimeProvider
    {
        public override TimeZoneInfo LocalTimeZone { get; } =
            TimeZoneInfo.CreateCustomTimeZone("bundle", time.Offset, "bundle", "bundle");

        public override DateTimeOffset GetUtcNow() => time.ToUniversalTime();
    }
}
