using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Reports.Bundles;

/// <summary>Writes an audit with all that it rests on as one archive.</summary>
public static class BundleWriter
{
    private const int BlockBytes = 1 << 16;

    /// <summary>Writes the archive.</summary>
    /// <param name="result">The audit, made of a study file.</param>
    /// <param name="path">Where the archive is to go.</param>
    /// <param name="strict">Whether it was read strictly.</param>
    /// <param name="overwrite">Whether a file that is already there may be replaced.</param>
    /// <param name="cancellation">Stops the writing; nothing is left behind then.</param>
    /// <returns>The hash that stands for the bundle, and its files.</returns>
    /// <exception cref="InputException">A file cannot be read or written, or has changed since it was audited.</exception>
    public static (string Sha256, IReadOnlyList<string> Files) Write(
        AuditResult result, string path, bool strict = false, bool overwrite = false, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(result);
        string studyName = result.Provenance.StudyFile ?? throw new InputException(InputProblem.Usage,
            "a bundle holds a study file, and this audit was made without one; write one first");

        // Results name the study's file and not where on this machine it is.
        string studyFile = Path.Combine(result.Study.Folder, Path.GetFileName(studyName));
        if (!overwrite && File.Exists(path))
        {
            throw new InputException(InputProblem.CannotWrite, $"{path} already exists; name another file")
            {
                Remedy = Remedy.Overwrite,
            };
        }

        var files = BundleFiles.Of(result.Study, studyFile);
        var audited = result.Logs.SelectMany(l => l.Files.Zip(l.Sha256)).DistinctBy(f => f.First)
            .ToDictionary(f => Path.GetFullPath(Path.Combine(result.Study.Folder, f.First)), f => f.Second, StringComparer.Ordinal);
        audited[Path.GetFullPath(studyFile)] = result.Provenance.StudySha256 ?? "";
        using var memory = new MemoryStream();
        string root = Path.GetFileNameWithoutExtension(path) + "/";
        string bundleHash;
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            var payload = new List<(string Name, string Sha256)>();
            long bytes = 0;
            foreach (var (file, name) in files)
            {
                cancellation.ThrowIfCancellationRequested();
                var (hash, length) = Copy(zip, root + BundleLayout.Study + name, file, result.Provenance.Created);
                if (audited.TryGetValue(file, out string? known) && known != hash && !InParts(result, file, known))
                {
                    throw new InputException(InputProblem.Unusable, $"{file} has changed since it was audited; run the command again");
                }

                payload.Add((BundleLayout.Study + name, hash));
                bytes += length;
            }

            byte[] results = Encoding.UTF8.GetBytes(ResultsJson.Audit(result));
            payload.Add((BundleLayout.Results, Put(zip, root + BundleLayout.Results, results, result.Provenance.Created)));
            bytes += results.Length;
            byte[] manifest = Encoding.UTF8.GetBytes(BundleLayout.ManifestOf(payload));
            bundleHash = FileHash.Sha256(manifest);
            var named = result with { Provenance = result.Provenance with { BundleSha256 = bundleHash } };
            List<(string Name, byte[] Bytes)> tags =
            [
                (BundleLayout.Declaration, Encoding.UTF8.GetBytes("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n")),
                (BundleLayout.Info, Encoding.UTF8.GetBytes(InfoOf(result, files[0].Name, strict, payload.Count, bytes))),
                (BundleLayout.Manifest, manifest),
                (BundleLayout.Report, Encoding.UTF8.GetBytes(HtmlPage.Of(named, ChartSet.Of(named, cancellation)))),
            ];
            var tagHashes = tags.Select(t => (t.Name, Put(zip, root + t.Name, t.Bytes, result.Provenance.Created))).ToList();
            Put(zip, root + BundleLayout.TagManifest, Encoding.UTF8.GetBytes(BundleLayout.ManifestOf(tagHashes)),
                result.Provenance.Created);
        }

        AtomicFile.Write(path, memory.GetBuffer().AsSpan(0, (int)memory.Length));
        return (bundleHash, [.. files.Select(f => f.Name)]);
    }

    private static string InfoOf(AuditResult result, string study, bool strict, int files, long bytes) =>
        InvariantText.Of($"Bagging-Date: {result.Provenance.Created:yyyy-MM-dd}\n")
        + InvariantText.Of($"Payload-Oxum: {bytes}.{files}\n")
        + $"Bag-Software-Agent: ChargeAudit {result.Provenance.ProgramVersion}\n"
        + $"External-Description: {string.Join(' ', result.Study.Title.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))}\n"
        + $"{BundleLayout.StudyLabel}: {BundleLayout.Study}{study}\n"
        + $"{BundleLayout.StrictLabel}: {(strict ? "yes" : "no")}\n"
        + $"{BundleLayout.ProcedureLabel}: {StableName.Of(
            result.Procedure is null ? PublishedProcedure.None : PublishedProcedure.UsAppendixY)}\n";

    private static string Put(ZipArchive zip, string name, byte[] bytes, DateTimeOffset time)
    {
        var entry = zip.CreateEntry(name);
        entry.LastWriteTime = time;
        using var stream = entry.Open();
        stream.Write(bytes);
        return FileHash.Sha256(bytes);
    }

    // A log that was summarized in parts is known by their hashes.
    private static bool InParts(AuditResult result, string file, string known) => result.Logs.SelectMany(l => l.From?.Files ?? [])
        .Any(f => f.Ends.Count > 0 && f.Sha256 == known && FileHash.OfParts(file, f.Ends) == known);

    private static (string Sha256, long Length) Copy(ZipArchive zip, string name, string file, DateTimeOffset time)
    {
        try
        {
            using var source = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.Read);
            var entry = zip.CreateEntry(name);
            entry.LastWriteTime = time;
            using var target = entry.Open();
            using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            byte[] block = new byte[BlockBytes];
            long length = 0;
            for (int read; (read = source.Read(block)) > 0; length += read)
            {
                hash.AppendData(block, 0, read);
                target.Write(block, 0, read);
            }

            return (Convert.ToHexStringLower(hash.GetHashAndReset()), length);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing, $"{file} cannot be read: {e.Message.TrimEnd('.')}; check the study's files", e);
        }
    }
}
