using System.IO.Compression;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Sources;

/// <summary>Looks into a ZIP archive: a workbook, or files of which one is a log.</summary>
internal static class Archive
{
    private const int MostMembers = 10_000;
    private static readonly string[] Texts = [".csv", ".tsv", ".tab", ".txt", ".log", ".dat", ".asc"];
    private static readonly char[] Separators = ['\t', ';', ',', '|', ' '];
    private static readonly string[] Others = [".json", ".jsonl", ".ndjson", ".parquet", ".xlsx", ".ods", ".xml", ".db", ".sqlite",
        ".sqlite3"];

    /// <summary>The member that is the log.</summary>
    /// <param name="path">Name of the archive.</param>
    /// <param name="raw">The archive, which can be sought in.</param>
    /// <param name="notes">Told which member was taken of several.</param>
    /// <returns>Its full name; null where the archive as a whole is a workbook.</returns>
    public static string? Member(string path, Stream raw, List<string> notes)
    {
        try
        {
            using var zip = new ZipArchive(raw, ZipArchiveMode.Read, leaveOpen: true);
            if (zip.GetEntry("xl/workbook.xml") is not null || zip.GetEntry("content.xml") is not null)
            {
                return null;
            }

            if (zip.Entries.Count > MostMembers)
            {
                throw LogErrors.TooManyMembers(path, MostMembers);
            }

            ZipArchiveEntry[] files = [
                .. zip.Entries.Where(e => e.Name.Length > 0 && e.Name[0] != '.' && !e.FullName.StartsWith("__", StringComparison.Ordinal))];
            ZipArchiveEntry[] logs = files.Length == 1 ? files : [.. files.Where(f => IsLog(path, f))];
            if (logs.Length != 1)
            {
                throw LogErrors.NoMember(path, [.. (logs.Length > 1 ? logs : files).Select(f => f.FullName)], logs.Length);
            }

            if (logs[0].IsEncrypted)
            {
                throw LogErrors.LockedMember(path, logs[0].FullName);
            }

            if (logs[0].Length > BombGuardStream.HarmlessBytes && logs[0].Length / BombGuardStream.LargestRatio > logs[0].CompressedLength)
            {
                throw LogErrors.Bomb(path);
            }

            notes.Add(
                $"{LogErrors.Quote(logs[0].FullName)} was read from the "
                + $"archive{(files.Length > 1 ? $", not {LogErrors.List(files.Where(f => f != logs[0]).Select(f => f.FullName))}" : "")}.");
            return logs[0].FullName;
        }
        catch (InvalidDataException e)
        {
            // A workbook is an archive, too, and where one is cut off only its name shows that.
            throw LogErrors.Corrupt(path, Path.GetExtension(path).ToLowerInvariant() is ".xlsx" or ".ods" ? "a workbook" : "ZIP", e);
        }
    }

    // By its name, and where that says text, by whether one of its first lines names two quantities.
    private static bool IsLog(string path, ZipArchiveEntry member)
    {
        string extension = Path.GetExtension(member.Name).ToLowerInvariant();
        if (!Texts.Contains(extension))
        {
            return Others.Contains(extension);
        }

        if (member.IsEncrypted)
        {
            return true;
        }

        byte[] head = new byte[1 << 13];
        using var text = new BombGuardStream(member.Open(), Stream.Null, path, _ => true, "ZIP");
        int read = text.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        string[] lines = TextEncodings.Detect(head.AsSpan(0, read)).Decode(head.AsSpan(0, read)).Split('\n', '\r');
        return lines.Take(40).Any(l => Separators.Any(s => HeaderWords.CountQuantities(l.Split(s)) >= 2));
    }
}
